"""Figures and days as words, the same in sentences, evidence and mail."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from functools import lru_cache

from roster.mass import MassUnit, from_grams

_NUMBER_WORDS = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"]


def number_text(number: float | Decimal) -> str:
    """At most two decimals, no trailing zeros.

    >>> number_text(7.0), number_text(22.5)
    ('7', '22.5')
    """
    return f"{number:.2f}".rstrip("0").rstrip(".")


def mass_text(load_g: int, unit: str) -> str:
    """A load in a unit: "18 kg", "40 lb"."""
    return f"{number_text(from_grams(load_g, unit))} {MassUnit(unit).label}"


def count_text(count: int) -> str:
    """Small numbers as words.

    >>> count_text(3), count_text(11)
    ('three', '11')
    """
    return _NUMBER_WORDS[count] if count < len(_NUMBER_WORDS) else str(count)


def counted(count: int, one: str, many: str = "") -> str:
    """How many of something.

    >>> counted(1, "day"), counted(1200, "day"), counted(2, "person", "people")
    ('1 day', '1,200 days', '2 people')
    """
    return f"{count:,} {one if count == 1 else many or one + 's'}"


@lru_cache(maxsize=4096)
def day_text(day: date) -> str:
    """Such as "Tue 3 Mar"."""
    return f"{day:%a} {day.day} {day:%b}"


def share_text(share: float | None) -> str:
    """A share as whole per cent; empty where it is unknown."""
    return "" if share is None else f"{100 * share:.0f} %"
