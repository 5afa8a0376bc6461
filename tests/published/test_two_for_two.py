"""The two-for-two rule: two or more reps over the goal in the last set, in two workouts running -> a heavier load.

Baechle TR and Earle RW (editors), Essentials of Strength Training and Conditioning, after Graves and Baechle.
That a missed session between the two does not part them is our own reading.
"""

from __future__ import annotations

import pytest

from tests.analytics.answers import findings
from tests.analytics.frames import assessed, planned_days, weekly, weekly_logs


def is_too_easy(*last_sets: int | None) -> bool:
    """3 x 10 every third day; the last set had so many reps, None: the session was missed."""
    plan = weekly(*["3x10@20"] * len(last_sets), every=3)
    logs = weekly_logs(*("" if reps is None else f"10@20 10@20 {reps}@20" for reps in last_sets), every=3)
    last_day = planned_days(len(last_sets), every=3)[-1]
    return findings(assessed(plan, logs, on=last_day)).get("too_easy") == "good"


@pytest.mark.parametrize("last_sets", [(12, 12), (12, 13), (13, 12), (10, 12, 12)])
def test_two_over_in_two_workouts_running_is_ready_for_more(last_sets: tuple[int, ...]):
    assert is_too_easy(*last_sets)


@pytest.mark.parametrize("last_sets", [(12,), (12, 11), (11, 12), (12, 12, 10), (12, 10, 12)])
def test_less_is_not(last_sets: tuple[int, ...]):
    assert not is_too_easy(*last_sets)


def test_a_missed_session_between_does_not_part_the_two():
    assert is_too_easy(12, None, 12)
