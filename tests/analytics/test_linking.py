"""Which planned session a log belongs to."""

from __future__ import annotations

import pytest

from tests.analytics.answers import standings
from tests.analytics.frames import PRESS, ROW, SQUAT, Session, asked, assessed, client, log, session

MON, WED, FRI = "2026-01-05", "2026-01-07", "2026-01-09"
SETS = "8@20"


def plan() -> list[Session]:
    return [
        session(1, MON, asked(exercise=SQUAT), asked(exercise=PRESS)),
        session(2, WED, asked(exercise=PRESS), asked(exercise=ROW)),
        session(3, FRI, asked(exercise=SQUAT), asked(exercise=ROW)),
    ]


def links(*logs, on: str = "2026-01-31", **about) -> list[tuple[int, str]]:
    return standings(assessed(plan(), logs, on=on, **about))


def test_a_log_that_names_its_session_belongs_to_it_whatever_was_done_and_when():
    assert links(log("2026-01-20", {SQUAT: SETS}, of=2)) == [(2, "first")]


def test_another_belongs_to_the_session_it_shares_most_exercises_with():
    assert links(log(MON, {PRESS: SETS, ROW: SETS})) == [(2, "first")]


def test_an_exercise_counts_once_however_many_sets_it_had():
    assert links(log(WED, {SQUAT: "8@20 8@20 8@20", ROW: SETS})) == [(3, "first")]
    assert links(log(MON, {SQUAT: "8@20 8@20 8@20", PRESS: SETS, ROW: SETS})) == [(1, "first")]


def test_warm_up_sets_count_too():
    assert links(log(MON, {PRESS: SETS, ROW: "8@10*"})) == [(2, "first")]


def test_a_swapped_exercise_counts_as_the_one_it_replaced():
    curl = 99

    assert links(log(FRI, {curl: SETS}, swapped={curl: SQUAT})) == [(3, "first")]


@pytest.mark.parametrize(("day", "session_number"), [("2026-01-06", 1), ("2026-01-08", 3), ("2026-01-11", 3)])
def test_ties_go_to_the_nearest_suggested_day(day: str, session_number: int):
    assert links(log(day, {SQUAT: SETS})) == [(session_number, "first")]


def test_ties_as_near_go_to_the_earlier_day():
    assert links(log(WED, {SQUAT: SETS})) == [(1, "first")]


def test_only_sessions_of_the_week_performed_in_are_looked_at():
    assert links(log("2026-01-12", {SQUAT: SETS})) == [(-1, "extra")]
    assert links(log("2026-01-04", {SQUAT: SETS})) == [(-1, "extra")]


def test_a_log_that_shares_nothing_is_an_extra_session():
    assert links(log(MON, {99: SETS})) == [(-1, "extra")]


def test_trained_without_details_and_without_a_name_is_an_extra_session():
    assert links(log(MON, "")) == [(-1, "extra")]


def test_another_client_s_plan_is_not_looked_at():
    told = links(log(MON, {SQUAT: SETS}, client=2), clients=[client(1), client(2)])

    assert told == [(-1, "extra")]


def test_the_first_performed_is_the_session_s_log_and_the_later_a_second_one():
    assert links(log(FRI, {SQUAT: SETS}, of=1), log(WED, {SQUAT: SETS}, of=1)) == [(1, "second"), (1, "first")]


def test_on_one_day_a_named_link_goes_before_a_found_one():
    assert links(log(MON, {SQUAT: SETS}), log(MON, {SQUAT: SETS}, of=1)) == [(1, "second"), (1, "first")]


def test_on_one_day_the_one_filed_first_goes_first():
    assert links(log(MON, {SQUAT: SETS}, of=1), log(MON, {PRESS: SETS}, of=1)) == [(1, "first"), (1, "second")]


def test_a_found_link_may_fall_on_a_session_that_has_a_log_already():
    assert links(log(MON, {SQUAT: SETS}, of=1), log("2026-01-06", {SQUAT: SETS})) == [(1, "first"), (1, "second")]


def test_a_log_of_a_later_day_never_takes_a_session_from_an_earlier_one():
    assert links(log(FRI, {SQUAT: SETS}, of=1), on=WED) == [(1, "first")]
