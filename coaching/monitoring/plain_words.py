"""Figures and days as words, the same in sentences, evidence and mail."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

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


def plural(count: int, one: str, many: str = "") -> str:
    """
    >>> plural(1, "day"), plural(2, "day")
    ('1 day', '2 days')
    """
    return f"{count} {one if count == 1 else many or one + 's'}"


def day_text(day: date) -> str:
    """Such as "Tue 3 Mar"."""
    return f"{day:%a} {day.day} {day:%b}"


def share_text(share: float | None) -> str:
    """A share as whole per cent; a dash where it is unknown."""
    return "–" if share is None or share != share else f"{round(share * 100)} %"
