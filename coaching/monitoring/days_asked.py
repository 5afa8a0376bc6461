"""The day that somebody asks to see, as the address of a page or of a program's request gives it."""

from __future__ import annotations

from datetime import date

# No log is older; and far below it the calendar itself ends.
EARLIEST_DAY = date(2000, 1, 1)
_SHOWN_CHARACTERS = 40


class DayRefused(Exception):
    """Facts cannot be shown as at that day; the message says why."""


def day_asked(text: str, today: date) -> date:
    """A day from EARLIEST_DAY to `today`."""
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise DayRefused(f"“{text[:_SHOWN_CHARACTERS]}” is no date such as {today.isoformat()}.") from None
    if day > today:
        raise DayRefused(f"{day.isoformat()} has not come yet.")
    if day < EARLIEST_DAY:
        raise DayRefused(f"{day.isoformat()} is too long ago.")
    return day
