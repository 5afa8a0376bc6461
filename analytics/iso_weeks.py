"""The names of weeks: ISO 8601, in which a week begins on Monday and belongs to the year of its Thursday."""

from __future__ import annotations

from datetime import date


def iso_week(day: date) -> str:
    """The week as ISO 8601 writes it.

    >>> iso_week(date(2027, 1, 3))
    '2026-W53'
    """
    year, week, _ = day.isocalendar()
    return f"{year}-W{week:02d}"
