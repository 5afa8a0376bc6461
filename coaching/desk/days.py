"""Days and counts in the words of the desk."""

from __future__ import annotations

from datetime import date, timedelta

from analytics.iso_weeks import monday_of


def last_week(day: date) -> date:
    """The Monday of the last full week."""
    return monday_of(day) - timedelta(weeks=1)


def ago(day: date | None, today: date) -> str:
    """How long ago, in words.

    >>> ago(date(2026, 4, 6), today=date(2026, 4, 15))
    '9 days ago'
    """
    if day is None:
        return "never"
    days = (today - day).days
    if days <= 0:
        return "today"
    return "yesterday" if days == 1 else f"{days} days ago"


def listed(names: list[str], at_most: int = 0) -> str:
    """Names in a row; beyond `at_most` only how many more there are."""
    if at_most and len(names) > at_most:
        return f"{', '.join(names[:at_most])} and {len(names) - at_most} more"
    return ", ".join(names)
