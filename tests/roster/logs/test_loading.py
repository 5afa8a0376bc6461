"""A file of logs: its rows become session logs with their sets."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path
from uuid import UUID

import pytest

from roster.blocks.models import Exercise, PlannedSession
from roster.logs.loading import load_logs
from roster.logs.log_rows import COLUMNS
from roster.logs.models import SessionLog, SetLog, Submission
from roster.people.models import Client, Coach
from roster.tables.report import LoadReport
from tests.coaching.factories import ExerciseFactory
from tests.roster.logs.rows import FIRST, LOOSE, ONE_UUID, SECOND, TOLD
from tests.roster.tables.loaded import faults_of, load_text

Load = Callable[..., LoadReport]


def test_rows_of_one_session_are_one_log_with_its_sets(load: Load, client: Client, planned: PlannedSession):
    report = load(FIRST + SECOND)

    log = SessionLog.objects.get()
    assert (report.created, report.client_ids) == (1, {client.pk})
    assert (log.client, log.performed_on, log.planned_session) == (client, date(2026, 4, 13), planned)
    assert (log.minutes, log.effort, log.pain, log.pain_region) == (Decimal("31.5"), 7, 1, "left knee")
    assert (log.note, log.has_details) == ("felt fine", True)
    sets = list(log.sets.values_list("position", "number", "reps", "rest_s", "is_warm_up", "load_g"))
    assert sets == [(1, 1, 8, 70, False, 20_000), (2, 2, 6, 80, False, 20_000)]


def test_a_file_of_trained_days_needs_no_columns_about_sets(client: Client, coach: Coach, tmp_path: Path):
    text = "client,performed_on,minutes\nbo,2026-04-13,30\nbo,2026-04-15,\n"

    report = load_text(load_logs, COLUMNS, tmp_path, coach, text)

    assert report.created == 2
    assert list(SessionLog.objects.values_list("has_details", "minutes")) == [(False, 30), (False, None)]


def test_what_came_in_is_kept_as_it_came(load: Load):
    load(FIRST)

    submission = Submission.objects.get()
    assert (submission.door, submission.verdict, submission.revision) == ("file", "accepted", 1)
    assert submission.payload["rows"][0]["load"] == "20"
    assert submission.payload["rows"][0]["pain_region"] == "left knee"
    assert "submission" not in submission.payload["rows"][0]


def test_labels_compare_trimmed_and_without_regard_to_case(load: Load, planned: PlannedSession):
    load(FIRST.replace("bo,", " BO,").replace("Base,1,A,", " bASE ,1,a,") + SECOND)

    assert [log.planned_session for log in SessionLog.objects.all()] == [planned]


def test_a_log_that_names_no_session_is_tied_to_none(load: Load):
    load(LOOSE)

    assert SessionLog.objects.get().planned_session is None


def test_a_single_row_without_exercise_says_trained_and_nothing_more(load: Load):
    load(TOLD.replace(",,,,,,,,,,,,,,,,", ",,,,,,,,,,,40,6,,,,"))

    log = SessionLog.objects.get()
    assert (log.has_details, log.sets.count(), log.minutes, log.effort) == (False, 0, 40, 6)


def test_sets_without_a_number_are_numbered_by_the_rows_of_their_exercise(load: Load):
    rows = ["Row", "Curl", "Row", "row "]

    load("".join(LOOSE.replace("Row", name) for name in rows))

    sets = [(done.exercise.name, done.number) for done in SetLog.objects.order_by("position")]
    assert sets == [("Row", 1), ("Curl", 1), ("Row", 2), ("Row", 3)]


@pytest.mark.parametrize(
    ("cells", "meant"),
    [
        ("8,20,kg", (8, "reps", "mass", 20_000, "")),
        ('"8","22,5",', (8, "reps", "mass", 22_500, "")),
        ("8,45,lb", (8, "reps", "mass", 20_412, "")),
        ("0,20,", (0, "reps", "mass", 20_000, "")),
        ("8 each,bw,", (8, "reps", "body", None, "")),
        ("30 s,,", (30, "s", "body", None, "")),
        ("20 m,band red,", (20, "m", "band", None, "red")),
    ],
)
def test_a_set_is_told_in_reps_and_load(load: Load, cells: str, meant: tuple[object, ...]):
    load(LOOSE.replace(",8,20,,", f",{cells},"))

    done = SetLog.objects.get()
    assert (done.reps, done.measure, done.load_kind, done.load_g, done.band) == meant


def test_reps_of_an_exercise_that_counts_seconds_are_seconds(load: Load, coach: Coach):
    ExerciseFactory(studio=coach.studio, name="Row", measure="s")

    load(LOOSE)

    assert SetLog.objects.get().measure == "s"


@pytest.mark.parametrize(("cell", "meant"), [("yes", True), ("1", True), ("no", False), ("0", False), ("", False)])
def test_a_warm_up_is_marked(load: Load, cell: str, meant: bool):
    load(LOOSE.replace(",8,20,,,,", f",8,20,,,{cell},"))

    assert SetLog.objects.get().is_warm_up is meant


def test_an_exercise_that_was_not_planned_is_taken_and_reported(load: Load):
    report = load(
        FIRST + SECOND + FIRST.replace("Goblet squat,1", "Curl,1").replace("31.5,7,1,left knee,felt fine", ",,,,")
    )

    assert report.messages == [
        "exercise “Curl” was not known and is made",
        "row 2: bo: “Curl” was not planned, taken as extra work (1 session)",
    ]
    assert (Exercise.objects.get(name="Curl").slot, Exercise.objects.get(name="Curl").implements_used) == ("extra", 1)


def test_without_a_named_session_the_plan_of_the_iso_week_counts(load: Load):
    in_the_week = LOOSE.replace("Row", "Goblet squat")
    a_week_later = in_the_week.replace("2026-04-14", "2026-04-20")

    report = load(in_the_week + a_week_later, now=datetime(2026, 4, 20, 7, tzinfo=UTC))

    assert report.messages == ["row 3: bo: “Goblet squat” was not planned, taken as extra work (1 session)"]


def test_pain_with_a_region_and_no_figure_is_a_warning(load: Load):
    report = load(TOLD.replace(",,,,,,,,,,,,,,,,", ",,,,,,,,,,,,,,hip,,"))

    assert report.warnings == ["row 2: bo: pain in “hip” without its figure"]


def test_a_day_still_to_come_is_taken_and_said(load: Load):
    report = load(LOOSE.replace("2026-04-14", "2026-04-20"), now=datetime(2026, 4, 14, 7, tzinfo=UTC))

    assert report.created == 1
    assert report.warnings == ["row 2: bo: 2026-04-20 is still to come"]


def test_two_sessions_on_one_day_need_a_submission_or_a_label(load: Load):
    one, other = (LOOSE.replace(",,,,,,\n", f",30,,,,,{uuid}\n") for uuid in (ONE_UUID, ONE_UUID[:-1] + "2"))

    report = load(one + other)

    assert (report.created, faults_of(report)) == (2, [])


def test_tomorrow_is_not_still_to_come_since_a_client_may_be_ahead_of_their_zone(load: Load):
    report = load(LOOSE.replace("2026-04-14", "2026-04-16"))

    assert report.created == 1


def test_a_log_without_submission_has_a_uuid_made_of_who_when_and_which(load: Load):
    load(FIRST + LOOSE)

    uuids = list(Submission.objects.values_list("uuid", flat=True))
    assert [uuid.version for uuid in uuids] == [5, 5]
    # Fixed for ever: a file that was loaded before must be known again.
    assert uuids[0] == UUID("858e82e4-2084-564e-a134-4e856f965513")


def test_loading_takes_as_many_queries_for_many_sessions_as_for_one(load: Load, django_assert_max_num_queries):
    rows = "".join(LOOSE.replace("2026-04-14", f"2026-03-{day:02}") for day in range(1, 31))

    with django_assert_max_num_queries(15):
        report = load(rows)

    assert report.created == 30
