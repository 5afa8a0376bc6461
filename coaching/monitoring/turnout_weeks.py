"""The weeks over which turnout is shown, session by session."""

from __future__ import annotations

from datetime import date, timedelta

from analytics.iso_weeks import monday_of

BOARD_WEEKS = 12


def board_weeks(day: date) -> list[date]:
    """The Mondays of the board, the latest one last."""
    this_week = monday_of(day)
    return [this_week - timedelta(weeks=back) for back in range(BOARD_WEEKS - 1, -1, -1)]
