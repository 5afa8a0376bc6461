"""The log in words, set by set."""

from __future__ import annotations

import pytest

from coaching.desk.story_log import LoggedSet, build_entries, sets_line
from coaching.monitoring.models import LogFact
from roster.logs.models import ExtraWork
from tests.coaching.factories import (
    ExerciseFactory,
    LogFactFactory,
    PlannedSessionFactory,
    SessionLogFactory,
    SetLogFactory,
)


def a_set(reps: int, load_g: int | None = 18_000, **more: object) -> LoggedSet:
    kind = "body" if load_g is None else "mass"
    plain = LoggedSet(1, "Goblet squat", None, "", reps, "reps", kind, load_g, "", False)
    return plain._replace(**more)


@pytest.mark.parametrize(
    ("sets", "words"),
    [
        ([a_set(9), a_set(9), a_set(8), a_set(6)], "9-9-8-6 × 18 kg"),
        ([a_set(8, 20_000), a_set(6), a_set(6)], "8 × 20 kg, 6-6 × 18 kg"),
        ([a_set(12, None), a_set(10, None)], "12-10"),
        ([a_set(12, None, load_kind="band", band="green")], "12, band green"),
        ([a_set(30, None, measure="s"), a_set(25, None, measure="s")], "30-25 s"),
        ([a_set(20, 24_000, measure="m")], "20 m × 24 kg"),
    ],
)
def test_sets_are_told_as_a_coach_writes_them(sets: list[LoggedSet], words: str) -> None:
    assert sets_line(sets, "kg") == words


def test_loads_are_told_in_the_unit_of_the_client() -> None:
    assert sets_line([a_set(8, 18_144)], "lb") == "8 × 40 lb"


def a_log_of_two_exercises() -> LogFact:
    log = SessionLogFactory()
    squat, row = (ExerciseFactory(studio=log.client.studio, name=name) for name in ("Squat", "Row"))
    SetLogFactory(session_log=log, exercise=squat, position=1, number=1, reps=5, load_g=10_000, is_warm_up=True)
    SetLogFactory(session_log=log, exercise=squat, position=2, number=2)
    SetLogFactory(session_log=log, exercise=row, position=3, number=1)
    SetLogFactory(session_log=log, exercise=squat, position=4, number=3)
    return LogFactFactory(session_log=log, planned_session=PlannedSessionFactory(block__client=log.client))


def test_exercises_done_in_turn_are_told_one_after_the_other_and_warm_up_apart(db: None) -> None:
    entry = build_entries([a_log_of_two_exercises()], "kg")[0]

    assert entry.exercises == [("Squat, warm-up", "5 × 10 kg"), ("Squat", "8-8 × 20 kg"), ("Row", "8 × 20 kg")]


def test_a_swap_names_what_was_asked_and_why(db: None) -> None:
    log = SessionLogFactory()
    asked = ExerciseFactory(studio=log.client.studio, name="Pull-up")
    SetLogFactory(session_log=log, exercise__name="Row", asked=asked, swap_reason="no bar")

    entry = build_entries([LogFactFactory(session_log=log)], "kg")[0]

    assert entry.exercises[0][0] == "Row (for Pull-up, no bar)"


def test_a_log_names_its_planned_session(db: None) -> None:
    session = PlannedSessionFactory(label="B", week=3, block__label="Block 5")
    fact = LogFactFactory(session_log__client=session.block.client, planned_session=session)

    assert build_entries([fact], "kg")[0].session == "B, week 3 of Block 5"


def test_a_log_beside_the_plan_says_so_and_tells_work_in_minutes(db: None) -> None:
    fact = LogFactFactory(standing=LogFact.Standing.EXTRA)
    ExtraWork.objects.create(session_log=fact.session_log, what="walk", minutes="20.00")

    entry = build_entries([fact], "kg")[0]

    assert (entry.session, entry.extra_work) == ("extra session", ["walk, 20 min"])


def test_a_page_of_logs_costs_three_queries(db: None, django_assert_num_queries: object) -> None:
    facts = [a_log_of_two_exercises() for _ in range(3)]

    with django_assert_num_queries(3):
        build_entries(facts, "kg")
