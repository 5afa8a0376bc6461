"""ISO 8601 weeks by name, such as 2026-W53."""

from __future__ import annotations

from datetime import date, timedelta


def week_name(day: date) -> str:
    year, week, _ = day.isocalendar()
    return f"{year}-W{week:02}"


def monday_of(day: date) -> date:
    return day - timedelta(days=day.weekday())


def sunday_of(day: date) -> date:
    return monday_of(day) + timedelta(days=6)
