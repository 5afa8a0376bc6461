"""Loads as whole grams, rounded once; 1 lb = 453.59237 g exactly (international yard and pound, 1959)."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import floor

GRAMS_PER = {"kg": Fraction(1000), "lb": Fraction(45359237, 100000)}


@dataclass(frozen=True)
class Load:
    """What makes a set heavy: a mass in grams, one's own body, or a named band."""

    kind: str
    grams: int | None = None
    band: str = ""


BODY = Load("body")


def whole_grams(amount: str, unit: str) -> int:
    return floor(Fraction(amount) * GRAMS_PER[unit] + Fraction(1, 2))


def read_load(text: str, unit: str) -> Load:
    words = text.strip().casefold()
    if words in ("", "bw"):
        return BODY
    if words.startswith("band"):
        return Load("band", band=words.removeprefix("band").strip())
    return Load("mass", grams=whole_grams(words, unit))


def kilograms(grams: int) -> Fraction:
    return Fraction(grams, 1000)
