"""Load steps taken: a higher load asked for, and lifted."""

from __future__ import annotations

from analytics.frame_schema import Changed
from analytics.load_steps import find_load_steps
from tests.analytics.frames import asked, assessed, day_of, session, weekly, weekly_logs


def steps(*asked_for: str, done: tuple[str, ...]) -> list[tuple[int, int, int]]:
    found = find_load_steps(assessed(weekly(*asked_for), weekly_logs(*done), on="2026-03-01").history)
    return [(row["from_load_g"], row["to_load_g"], row["taken_day"]) for row in found.records()]


def test_a_step_is_taken_when_its_load_is_lifted():
    told = steps("1x8@20", "1x8@22", "1x8@22", done=("8@20", "8@20", "8@22"))

    assert told == [(20_000, 22_000, day_of("2026-01-19"))]


def test_fewer_reps_at_the_new_load_are_a_step_taken():
    assert len(steps("1x8@20", "1x8@22", done=("8@20", "3@22"))) == 1


def test_a_lower_load_is_no_step_and_up_again_is_one():
    told = steps("1x8@20", "1x8@22", "1x8@20", "1x8@22", done=("8@20", "8@22", "8@20", "8@22"))

    assert [day for *_, day in told] == [day_of("2026-01-12"), day_of("2026-01-26")]


def test_from_body_weight_to_a_load_is_no_load_step():
    assert steps("1x8", "1x8@10", done=("8", "8@10")) == []


def test_a_deload_is_no_landing_and_coming_back_from_it_no_step():
    plan = weekly("1x8@20", "1x8@16", "1x8@20")
    plan[1] = session(2, "2026-01-12", asked("1x8@16", changed=Changed.DELOAD), week=2)

    assert len(find_load_steps(assessed(plan, weekly_logs("8@20", "8@16", "8@20"), on="2026-03-01").history)) == 0
