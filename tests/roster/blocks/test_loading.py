"""A file of blocks is published as it stands."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from roster.blocks.block_rows import COLUMNS
from roster.blocks.loading import load_blocks
from roster.blocks.models import Block, Exercise, PlannedExercise, PlannedSession
from roster.people.models import Client, Coach
from roster.tables.report import LoadReport
from tests.coaching.factories import ClientFactory, CoachFactory, ExerciseFactory
from tests.roster.tables.loaded import NOW, faults_of, load_text

Load = Callable[..., LoadReport]
HEADER = "client,block,starts_on,week,day,session,slot,exercise,implement,count,sets,reps,load,unit,rest_s,changed\n"
SQUAT = "bo,Base,2026-04-13,1,mon,A,lower,Goblet squat,kettlebell,1,3,8,20,kg,75,none\n"
PRESS = "bo,Base,2026-04-13,1,mon,A,upper,Floor press,dumbbell,2,3,12-10-8,11.25,kg,60,load\n"
PLANK = "bo,Base,2026-04-13,2,fri,B,full,Plank,,,2,30 s,,,,\n"


@pytest.fixture
def load(coach: Coach, client: Client, tmp_path: Path) -> Load:
    return lambda text, by=coach: load_text(load_blocks, COLUMNS, tmp_path, by, HEADER + text)


def test_a_block_is_published_with_its_weeks_sessions_and_exercises(load: Load, client: Client):
    report = load(SQUAT + PRESS + PLANK)

    block = Block.objects.get()
    assert (report.created, report.client_ids) == (1, {client.pk})
    assert (block.client, block.label, block.starts_on, block.weeks) == (client, "Base", date(2026, 4, 13), 2)
    assert block.published_at == NOW
    sessions = [(one.week, one.label, one.suggested_on, one.exercises.count()) for one in block.sessions.all()]
    assert sessions == [(1, "A", date(2026, 4, 13), 2), (2, "B", date(2026, 4, 24), 1)]


def test_a_row_says_what_is_asked_of_one_exercise(load: Load):
    load(SQUAT + PRESS)

    squat, press = PlannedExercise.objects.all()
    assert (squat.position, squat.slot, squat.implement, squat.implements_used) == (1, "lower", "kettlebell", 1)
    assert (squat.sets, squat.reps, squat.set_targets, squat.measure) == (3, 8, None, "reps")
    assert (squat.load_kind, squat.load_entered, squat.load_unit, squat.load_g) == ("mass", 20, "kg", 20_000)
    assert (squat.rest_s, squat.changed, squat.is_each_side) == (75, "none", False)
    assert (press.position, press.implements_used, press.reps, press.set_targets) == (2, 2, 12, [12, 10, 8])
    assert (press.load_entered, press.changed) == (Decimal("11.25"), "load")


def test_empty_cells_mean_one_implement_body_weight_no_rest_and_nothing_changed(load: Load):
    load(PLANK)

    plank = PlannedExercise.objects.get()
    assert (plank.implements_used, plank.load_kind, plank.load_g, plank.load_unit) == (1, "body", None, "")
    assert (plank.rest_s, plank.changed, plank.reps, plank.measure) == (None, "none", 30, "s")


@pytest.mark.parametrize(
    ("reps", "meant"),
    [("8", (8, "reps", False)), ("8 each", (8, "reps", True)), ("30 s", (30, "s", False)), ("20 m", (20, "m", False))],
)
def test_reps_may_be_each_side_or_seconds_or_metres(load: Load, reps: str, meant: tuple[int, str, bool]):
    load(SQUAT.replace(",3,8,", f",3,{reps},"))

    planned = PlannedExercise.objects.get()
    assert (planned.reps, planned.measure, planned.is_each_side) == meant


def test_a_load_without_unit_is_in_the_clients_own(load: Load, client: Client):
    Client.objects.update(unit="lb")

    load(SQUAT.replace(",20,kg,", ",45,,"))

    planned = PlannedExercise.objects.get()
    assert (planned.load_entered, planned.load_unit, planned.load_g) == (45, "lb", 20_412)


def test_a_band_is_named_and_has_no_grams(load: Load):
    load(SQUAT.replace(",20,kg,", ",band Red,,"))

    planned = PlannedExercise.objects.get()
    assert (planned.load_kind, planned.band, planned.load_g) == ("band", "Red", None)


def test_an_unknown_exercise_is_made_of_its_first_row(load: Load, coach: Coach):
    report = load(PRESS + PLANK + PLANK.replace(",2,fri,B,full,Plank,", ",2,sat,C,lower, PLANK ,"))

    press, plank = Exercise.objects.order_by("name")
    assert (press.studio, press.slot, press.implement, press.implements_used) == (coach.studio, "upper", "dumbbell", 1)
    assert (plank.name, plank.slot, plank.measure, plank.is_each_side) == ("Plank", "full", "s", False)
    assert report.messages == [
        "exercise “Floor press” was not known and is made",
        "exercise “Plank” was not known and is made",
    ]


def test_a_known_exercise_is_found_without_regard_to_case_and_gives_its_slot(load: Load, coach: Coach):
    known = ExerciseFactory(studio=coach.studio, name="goblet SQUAT", slot="lower")

    load(SQUAT.replace(",lower,", ",,"))

    planned = PlannedExercise.objects.get()
    assert (planned.exercise, planned.slot) == (known, "lower")


def test_sessions_without_a_label_are_told_apart_by_their_day(load: Load):
    load(SQUAT.replace(",A,", ",,") + PRESS.replace(",mon,A,", ",wed,,"))

    sessions = [(one.label, one.suggested_on, one.exercises.count()) for one in PlannedSession.objects.all()]
    assert sessions == [("", date(2026, 4, 13), 1), ("", date(2026, 4, 15), 1)]


def test_rows_of_a_session_need_not_stand_together(load: Load):
    load(SQUAT + PLANK + PRESS)

    names = [planned.exercise.name for planned in PlannedSession.objects.get(label="A").exercises.all()]
    assert names == ["Goblet squat", "Floor press"]


def test_the_same_exercise_may_be_asked_twice_in_a_session(load: Load):
    load(SQUAT + SQUAT.replace(",3,8,20,", ",2,12,16,"))

    assert [(one.position, one.sets) for one in PlannedExercise.objects.all()] == [(1, 3), (2, 2)]


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("bo,", "cleo,", "row 2, client: “cleo” is the key of no client"),
        (",Base,", ",,", "row 2, block: is empty"),
        ("2026-04-13", "2026-04-14", "row 2, starts_on: “2026-04-14” is no Monday"),
        (",1,mon", ",0,mon", "row 2, week: “0” is less than 1"),
        (",mon,", ",monday,", "row 2, day: “monday” is none of mon, tue, wed, thu, fri, sat, sun"),
        (",lower,", ",legs,", "row 2, slot: “legs” is none of upper, lower, full, extra"),
        ("Goblet squat", "", "row 2, exercise: is empty"),
        (",1,3,8,", ",3,3,8,", "row 2, count: “3” is more than 2"),
        (",3,8,", ",0,8,", "row 2, sets: “0” is less than 1"),
        (",3,8,", ",3,,", "row 2, reps: is empty"),
        (",3,8,", ",3,0,", "row 2, reps: “0” asks for less than one"),
        (",3,8,", ",3,12-10,", "row 2, reps: “12-10” has not one target for each of 3 sets"),
        (",20,kg,", ",heavy,kg,", "row 2, load: “heavy” is no number, bw or band NAME"),
        (",20,kg,", ",20,stone,", "row 2, unit: “stone” is none of kg, lb"),
        (",75,none", ",-5,none", "row 2, rest_s: “-5” is below zero"),
        (",75,none", ",75,tempo", "row 2, changed: “tempo” is none of none, sets, reps, rest, load, deload"),
    ],
)
def test_a_cell_that_is_wrong_is_a_fault_and_nothing_is_saved(load: Load, old: str, new: str, fault: str):
    report = load(SQUAT.replace(old, new, 1) + PLANK)

    assert faults_of(report) == [fault]
    assert not Block.objects.exists()
    assert not Exercise.objects.exists()


def test_two_start_dates_in_one_block_are_a_fault(load: Load):
    report = load(SQUAT + PLANK.replace("2026-04-13", "2026-04-20").replace("Base", " BASE"))

    assert faults_of(report) == [
        "row 3, starts_on: “2026-04-20” is a second start of block “BASE”, which starts on 2026-04-13 in row 2"
    ]


def test_two_days_of_one_session_are_a_fault(load: Load):
    report = load(SQUAT + PRESS.replace(",mon,A,", ",tue,a,"))

    assert faults_of(report) == ["row 3, day: “tue” is a second day of session “a” of week 1, mon in row 2"]


def test_a_load_that_the_kit_at_home_cannot_make_is_a_warning_once(load: Load, client: Client):
    client.kit.create(implement="Kettlebell", loads_entered="16, 24", loads_g=[16_000, 24_000])

    report = load(SQUAT + SQUAT.replace(",1,mon,", ",2,mon,") + PRESS)

    assert report.warnings == [
        "row 2: bo has no kettlebell of 20 kg at home (Goblet squat)",
        "row 4: bo has no dumbbell of 11.25 kg at home (Floor press)",
    ]
    assert report.created == 1


def test_blocks_that_overlap_are_a_warning(load: Load):
    load(SQUAT + PLANK)

    report = load(SQUAT.replace("Base", "Peak").replace("04-13", "04-20"))

    assert report.warnings == ["bo: blocks “Base” and “Peak” overlap from 2026-04-20"]


def test_blocks_that_follow_each_other_are_no_warning(load: Load):
    load(SQUAT)

    report = load(SQUAT.replace("Base", "Peak").replace("04-13", "04-20"))

    assert report.warnings == []


def test_two_clients_may_have_blocks_of_one_label(load: Load, coach: Coach):
    ClientFactory(lead=coach, key="ana")

    report = load(SQUAT + SQUAT.replace("bo,", "ana,"))

    assert report.created == 2


def test_a_client_of_another_coach_is_no_client(load: Load, coach: Coach):
    colleague = CoachFactory(studio=coach.studio, role=Coach.Role.COACH)

    assert faults_of(load(SQUAT, by=colleague)) == ["row 2, client: “bo” is the key of no client"]


def test_loading_takes_as_many_queries_for_many_blocks_as_for_one(load: Load, django_assert_max_num_queries):
    rows = "".join(SQUAT.replace("Base", f"Block {n}").replace("04-13", "04-20") for n in range(30))

    with django_assert_max_num_queries(20):
        report = load(rows)

    assert report.created == 30
