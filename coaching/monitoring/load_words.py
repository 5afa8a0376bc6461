"""Loads and sets in words, in the unit of whom they are about."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from coaching.monitoring.plain_words import mass_text
from roster.blocks.models import Measure
from roster.mass import LoadKind, from_grams


@lru_cache(maxsize=4096)
def in_unit(grams: int, unit: str) -> float:
    """The load as it is shown: pounds that became grams are whole pounds again."""
    return float(round(from_grams(grams, unit), 2))


@lru_cache(maxsize=4096)
def load_text(load_kind: str, grams: int | None, band: str, unit: str) -> str:
    """Such as "18 kg", "band green", "body weight"."""
    if load_kind == LoadKind.MASS and grams is not None:
        return mass_text(grams, unit)
    if load_kind == LoadKind.BAND:
        return f"band {band}".strip()
    return "body weight"


def amount(kilograms: float, unit: str) -> float:
    """A sum of loads in the unit, to a tenth."""
    return float(round(from_grams(round(kilograms * 1000), unit), 1))


def sets_text(targets: Iterable[int], measure: str, each_side: bool = False) -> str:
    """Such as "4 × 10", "12-10-8", "3 × 30 s", "3 × 8 each side"."""
    asked = list(targets)
    unit = "" if measure == Measure.REPS else f" {measure}"
    each = " each side" if each_side else ""
    if len(set(asked)) == 1:
        return f"{len(asked)} × {asked[0]}{unit}{each}"
    return f"{'-'.join(map(str, asked))}{unit}{each}"
