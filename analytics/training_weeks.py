"""Weeks are ISO 8601 weeks: they begin on Monday, and a date belongs to the week of its Thursday's year."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

DAYS_IN_WEEK = 7
_EPOCH = date(1970, 1, 1)
# Day 0, 1 January 1970, was a Thursday: three days after its Monday.
_EPOCH_AFTER_MONDAY = 3

Days = NDArray[np.int64]


def week_start_day(days: Days) -> Days:
    """The Monday of each day's week.

    >>> int(week_start_day(np.array([0]))[0])  # 1 January 1970, a Thursday
    -3
    """
    return days - (days + _EPOCH_AFTER_MONDAY) % DAYS_IN_WEEK


def to_day(day: date) -> int:
    return (day - _EPOCH).days


def to_date(day: int) -> date:
    return _EPOCH + timedelta(days=int(day))
