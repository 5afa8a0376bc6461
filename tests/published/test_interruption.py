"""One or two sessions missed in a row are missed sessions; three or more are an interruption.

Nilsen TS and others. Medicine & Science in Sports & Exercise 2018; 50(6): 1134-1141, Table 2.
Fairman CM and others. Medicine & Science in Sports & Exercise 2020; 52(2): 315-322.
"""

from __future__ import annotations

import pytest

from tests.analytics.answers import turnout
from tests.analytics.frames import assessed, weekly, weekly_logs

# Every third day from 5 January on; the fifteenth session, on 16 February, is overdue on the 19th.
SESSIONS, ON = 15, "2026-02-19"
MET = "8@20 8@20 8@20"


def turnout_after(*trained: bool) -> str | None:
    """Fifteen sessions; the last ones were trained or missed as told, those before trained."""
    sessions = [True] * (SESSIONS - len(trained)) + list(trained)
    logs = weekly_logs(*(MET if one else "" for one in sessions), every=3)
    return turnout(assessed(weekly(*["3x8@20"] * SESSIONS, every=3), logs, on=ON))


@pytest.mark.parametrize("missed", [1, 2])
def test_one_or_two_in_a_row_are_no_interruption(missed: int):
    assert turnout_after(*[False] * missed) is None


def test_three_that_are_not_in_a_row_are_none():
    assert turnout_after(False, False, True, False) is None


def test_three_in_a_row_are_an_interruption():
    assert turnout_after(False, False, False) == "week_gone"
