"""Days, weeks and spans of days, and dice that always fall the same way for the same words."""

from __future__ import annotations

import random
from datetime import date, timedelta
from typing import NamedTuple

WEEKDAY_NAMES = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
MON, TUE, WED, THU, FRI, SAT, SUN = range(7)


class Span(NamedTuple):
    """A run of days, first and last included."""

    first: date
    last: date

    def holds(self, day: date) -> bool:
        return self.first <= day <= self.last


def days_later(day: date, days: int) -> date:
    return day + timedelta(days=days)


def monday_of(day: date) -> date:
    return days_later(day, -day.weekday())


def sunday_of(day: date) -> date:
    return days_later(monday_of(day), 6)


def dice_for(*words: object) -> random.Random:
    """What falls for one client in one week never depends on what fell elsewhere, so the past stays as it was."""
    return random.Random("/".join(str(word) for word in words))
