"""ISO 8601 weeks, by name and by Monday: each begins on one, and belongs to the year of its Thursday."""

from __future__ import annotations

from datetime import date, timedelta


def iso_week(day: date) -> str:
    """The week as ISO 8601 writes it.

    >>> iso_week(date(2027, 1, 3))
    '2026-W53'
    """
    year, week, _ = day.isocalendar()
    return f"{year}-W{week:02d}"


def monday_of(day: date) -> date:
    return day - timedelta(days=day.weekday())
