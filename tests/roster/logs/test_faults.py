"""What is wrong with a file of logs, told row by row; nothing of it is saved."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from roster.blocks.models import PlannedSession
from roster.logs.models import SessionLog, Submission
from roster.tables.report import LoadReport
from tests.roster.logs.rows import FIRST, LOOSE, ONE_UUID, SECOND, TOLD
from tests.roster.tables.loaded import faults_of

Load = Callable[..., LoadReport]


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("bo,", "cleo,", "row 3, client: “cleo” is the key of no client"),
        ("2026-04-13", "", "row 3, performed_on: is empty"),
        ("2026-04-13", "13/04", "row 3, performed_on: “13/04” is no date such as 2026-04-30"),
        ("Base,1,A", "Bass,1,A", "row 3, block: “Bass” is no published block of this client"),
        ("Base,1,A", "Base,2,A", "row 3, week: “2” has no sessions in block “Base”"),
        ("Base,1,A", "Base,1,B", "row 3, session: “B” is no session of week 1 of block “Base”"),
        ("Base,1,A", "Base,1,", "row 3, session: is empty, while others of block, week and session are given"),
        ("Base,1,A", "Base,,A", "row 3, week: is empty, while others of block, week and session are given"),
        ("Base,1,A", ",1,A", "row 3, block: is empty, while others of block, week and session are given"),
        (",1,8,", ",0,8,", "row 3, set: “0” is less than 1"),
        (",1,8,", ",1,,", "row 3, reps: is empty"),
        (",1,8,", ",1,-8,", "row 3, reps: “-8” is none of 8, 8 each, 30 s, 20 m, 12-10-8"),
        (",1,8,", ",1,12-10,", "row 3, reps: “12-10” is more than one set: a log has a row for each"),
        (",20,kg", ",20 kg,kg", "row 3, load: “20 kg” is no number, bw or band NAME"),
        (",20,kg", ",20,st", "row 3, unit: “st” is none of kg, lb"),
        (",70,no", ",-1,no", "row 3, rest_s: “-1” is below zero"),
        (",70,no", ",70,maybe", "row 3, warm_up: “maybe” is none of yes, 1, no, 0"),
        (",31.5,", ",0,", "row 3, minutes: “0” is not more than 0"),
        (",7,1,", ",11,1,", "row 3, rpe: “11” is more than 10"),
        (",7,1,", ",7,10.5,", "row 3, pain: “10.5” is more than 10"),
        ("fine,", "fine,abc", "row 3, submission: “abc” is no UUID"),
        ("Goblet squat", "", "row 3, set: “1” is told of no exercise"),
    ],
)
def test_a_row_that_is_wrong_is_a_fault_and_nothing_is_saved(load: Load, old: str, new: str, fault: str):
    report = load(LOOSE + FIRST.replace(old, new, 1))

    assert fault in faults_of(report)
    assert not SessionLog.objects.exists()
    assert not Submission.objects.exists()


@pytest.mark.parametrize(
    ("cells", "column"),
    [("40,,,,", "minutes"), (",7,,,", "rpe"), (",,0,,", "pain"), (",,,hip,", "pain_region"), (",,,,hm", "note")],
)
def test_a_later_row_that_tells_of_the_session_again_is_a_fault(load: Load, cells: str, column: str):
    report = load(FIRST + SECOND.replace(",no,,,,,,", f",no,{cells},"))

    (fault,) = faults_of(report)
    assert fault.startswith(f"row 3, {column}: ")
    assert fault.endswith("is told of a session that began in row 2: only its first row tells it")


def test_a_row_without_exercise_among_several_is_a_fault(load: Load):
    report = load(LOOSE + TOLD)

    assert faults_of(report) == ["row 3, exercise: is empty in a session of several rows"]


def test_the_same_set_number_twice_in_an_exercise_is_a_fault(load: Load):
    report = load(FIRST + SECOND.replace("Goblet squat,2", " goblet SQUAT,1"))

    assert faults_of(report) == ["row 3, set: “1” of “goblet SQUAT” is in row 2 already"]


def test_one_submission_on_two_sessions_is_a_fault(load: Load):
    rows = LOOSE.replace(",\n", f",{ONE_UUID}\n")

    report = load(rows + rows.replace("2026-04-14", "2026-04-13"))

    assert faults_of(report) == [f"row 3, submission: “{ONE_UUID}” belongs to another session in row 2"]


def test_a_session_of_a_draft_cannot_be_named(load: Load, planned: PlannedSession):
    planned.block.published_at = None
    planned.block.save()

    assert faults_of(load(FIRST)) == ["row 2, block: “Base” is no published block of this client"]


def test_a_session_without_a_label_cannot_be_named(load: Load, planned: PlannedSession):
    PlannedSession.objects.update(label="", label_folded="")

    report = load(FIRST.replace("Base,1,A", "Base,1,"))

    assert faults_of(report) == ["row 2, session: is empty, while others of block, week and session are given"]
