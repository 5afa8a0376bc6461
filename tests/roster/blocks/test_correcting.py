"""A corrected file of blocks replaces what it corrects, and says so."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from roster.blocks.block_rows import COLUMNS
from roster.blocks.loading import load_blocks
from roster.blocks.models import Block, PlannedExercise, PlannedSession
from roster.people.models import Client, Coach
from roster.tables.report import LoadReport
from tests.coaching.factories import SessionLogFactory
from tests.roster.blocks.test_loading import HEADER, PLANK, PRESS, SQUAT
from tests.roster.tables.loaded import NOW, faults_of, load_text

Load = Callable[..., LoadReport]


@pytest.fixture
def load(coach: Coach, client: Client, tmp_path: Path) -> Load:
    return lambda text: load_text(load_blocks, COLUMNS, tmp_path, coach, HEADER + text)


def test_the_same_file_again_changes_nothing(load: Load):
    load(SQUAT + PRESS + PLANK)
    before = [list(model.objects.values()) for model in (Block, PlannedSession, PlannedExercise)]

    report = load(SQUAT + PRESS + PLANK)

    assert (report.created, report.changed, report.unchanged, report.changes) == (0, 0, 1, [])
    assert [list(model.objects.values()) for model in (Block, PlannedSession, PlannedExercise)] == before


def test_another_way_to_write_the_same_changes_nothing(load: Load):
    load(SQUAT + PRESS)

    report = load(
        (SQUAT + PRESS).replace(",20,", ",20.00,").replace("Base", " base ").replace("Goblet squat", "goblet SQUAT")
    )

    assert report.unchanged == 1


def test_a_changed_row_keeps_its_place_and_its_identity(load: Load):
    load(SQUAT + PRESS)
    before = list(PlannedExercise.objects.values_list("pk", flat=True))

    report = load(SQUAT.replace(",3,8,20,kg,75,", ",4,8,22.5,kg,75,") + PRESS)

    assert list(PlannedExercise.objects.values_list("pk", flat=True)) == before
    assert (report.changed, report.changes) == (
        1,
        ["bo, Base, week 1, A: Goblet squat, 3 x 8, 20 kg, rest 75 s → Goblet squat, 4 x 8, 22.5 kg, rest 75 s"],
    )
    assert Block.objects.get().version == 2


def test_a_change_beside_sets_reps_load_and_rest_is_named(load: Load):
    load(SQUAT)

    report = load(SQUAT.replace(",none", ",sets").replace(",kettlebell,", ",dumbbell,"))

    assert report.changes == ["bo, Base, week 1, A: Goblet squat: implement kettlebell → dumbbell, changed none → sets"]


def test_exercises_and_sessions_are_added_and_dropped(load: Load):
    load(SQUAT + PRESS)

    report = load(SQUAT + PLANK)

    assert report.changes == [
        "bo, Base, week 1, A: Floor press at position 2 dropped",
        "bo, Base, week 2, B: added",
        "bo, Base: weeks 1 → 2",
    ]
    assert PlannedExercise.objects.count() == 2


def test_a_new_start_moves_the_days_of_all_sessions(load: Load):
    load(SQUAT + PLANK)

    report = load((SQUAT + PLANK).replace("2026-04-13", "2026-04-20"))

    days = list(PlannedSession.objects.values_list("suggested_on", flat=True))
    assert days == [date(2026, 4, 20), date(2026, 5, 1)]
    assert "bo, Base: starts on 2026-04-13 → 2026-04-20" in report.changes


def test_logs_that_named_a_session_stay_with_it(load: Load, client: Client):
    load(SQUAT)
    log = SessionLogFactory(client=client, planned_session=PlannedSession.objects.get())

    load(SQUAT.replace(",mon,", ",tue,").replace(",20,", ",24,"))

    log.refresh_from_db()
    assert log.planned_session.suggested_on == date(2026, 4, 14)


def test_a_session_that_logs_named_cannot_be_dropped(load: Load, client: Client):
    load(SQUAT + PLANK)
    SessionLogFactory(client=client, planned_session=PlannedSession.objects.get(label="B"))

    report = load(SQUAT)

    assert faults_of(report) == [
        "row 2, session: “B” of week 2 is gone from the file, but logs name it: it can't be dropped"
    ]


def test_a_draft_of_the_same_label_is_published(load: Load):
    load(SQUAT)
    Block.objects.update(published_at=None)

    report = load(SQUAT)

    assert (Block.objects.get().published_at, report.changes) == (NOW, ["bo, Base: published"])
