"""Loads and undos in any order: a studio stands as if the files that were undone had never come."""

from __future__ import annotations

import pytest
from django.db import transaction
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from coaching.loads.models import Load
from coaching.loads.undoing import UndoRefused, plan_undo, undo_load
from roster.people.models import Coach
from tests.coaching.factories import CoachFactory, StudioFactory
from tests.coaching.loads.studios import NOW, FileRow, how_it_stands, try_to_load
from tests.plain_twin.small_files import asked, client, done, told

EXAMPLES = 20
FILES: list[tuple[str, list[FileRow]]] = [
    ("clients", [client(kit="dumbbell: 10, 20")]),
    ("clients", [client(goal="Stairs", kit="dumbbell: 12"), client(client="bo")]),
    ("blocks", [asked(), asked(week="2", load="22")]),
    ("blocks", [asked(reps="9"), asked(week="2", exercise="Row", load="")]),
    ("logs", done("2026-01-05", minutes="30")),
    ("logs", [*done("2026-01-05", "8@20 7@20"), *done("2026-01-12", names="2 A", pain="4", pain_region="knee")]),
    ("logs", [*told("2026-01-05"), *done("2026-01-14", {"Row": "8 8", "Curl": "8@6"}, names="")]),
    ("logs", done("2026-01-14", {"Row": "9 9"}, names="", client="bo")),
]
a_load = st.tuples(st.just("load"), st.integers(0, len(FILES) - 1))
an_undo = st.tuples(st.just("undo"), st.integers(0, 9))
# Beginning with people and a plan, or every file of logs would be refused.
steps = st.lists(st.one_of(a_load, a_load, an_undo), max_size=9).map(lambda more: [("load", 0), ("load", 2), *more])


@settings(max_examples=EXAMPLES, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(steps=steps)
def test_a_studio_stands_as_if_what_was_undone_had_never_come(db: None, steps: list[tuple[str, int]]) -> None:
    with transaction.atomic():
        coach, twin = _owner(), _owner()
        standing: list[tuple[Load, int]] = []
        for what, number in steps:
            if what == "load":
                _load(number, coach, standing)
            elif standing:
                _undo(number % len(standing), coach, standing)

        for _, number in standing:
            assert try_to_load(*FILES[number], twin) is not None

        assert how_it_stands(coach) == how_it_stands(twin)
        transaction.set_rollback(True)


def _owner() -> Coach:
    return CoachFactory(studio=StudioFactory(), role=Coach.Role.OWNER)


def _load(number: int, coach: Coach, standing: list[tuple[Load, int]]) -> None:
    taken = try_to_load(*FILES[number], coach)
    event("taken" if taken else "has faults")
    if taken:
        standing.append((taken, number))


def _undo(place: int, coach: Coach, standing: list[tuple[Load, int]]) -> None:
    load = standing[place][0]
    if plan_undo(load, coach).in_the_way:
        event("refused")
        with pytest.raises(UndoRefused):
            undo_load(load, by=coach, now=NOW)
    else:
        event("undone")
        undo_load(load, by=coach, now=NOW)
        del standing[place]
