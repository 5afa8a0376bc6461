"""The same log again changes nothing; a corrected one takes the place of the old and says so."""

from __future__ import annotations

from collections.abc import Callable

from roster.blocks.models import PlannedSession
from roster.logs.models import SessionLog, SetLog, Submission
from roster.people.models import Client, Coach
from roster.tables.report import LoadReport
from tests.coaching.factories import ClientFactory
from tests.roster.logs.rows import FIRST, LOOSE, ONE_UUID, SECOND, TOLD

Load = Callable[..., LoadReport]


def _record() -> list[list[dict[str, object]]]:
    return [list(model.objects.values()) for model in (Submission, SessionLog, SetLog)]


def test_the_same_file_again_changes_nothing(load: Load):
    load(FIRST + SECOND + TOLD)
    before = _record()

    report = load(FIRST + SECOND + TOLD)

    assert (report.created, report.changed, report.unchanged) == (0, 0, 2)
    assert (report.changes, report.client_ids) == ([], set())
    assert _record() == before


def test_another_way_to_write_the_same_changes_nothing(load: Load):
    load(FIRST + SECOND)
    before = _record()

    rows = (FIRST + SECOND).replace(",20,", ",20.0,").replace("Goblet", "goblet")
    report = load(rows.replace("31.5", '"31,50"'))

    assert report.unchanged == 1
    assert _record() == before


def test_other_content_is_a_new_revision_in_the_place_of_the_old(load: Load, client: Client):
    load(FIRST + SECOND)
    log = SessionLog.objects.get()

    report = load(FIRST.replace("31.5", "35") + SECOND.replace(",2,6,", ",2,7,") + SECOND.replace(",2,6,", ",3,5,"))

    assert (report.created, report.changed, report.client_ids) == (0, 1, {client.pk})
    old, new = Submission.objects.all()
    assert (old.revision, old.verdict, new.revision, new.verdict) == (1, "replaced", 2, "accepted")
    assert (old.uuid, old.payload["rows"][0]["minutes"]) == (new.uuid, "31.5")
    corrected = SessionLog.objects.get()
    assert (corrected.pk, corrected.submission, corrected.minutes) == (log.pk, new, 35)
    assert list(corrected.sets.values_list("number", "reps")) == [(1, 8), (2, 7), (3, 5)]


def test_a_correction_is_told_in_words(load: Load):
    load(FIRST + SECOND)

    report = load(
        FIRST.replace("31.5", "35").replace(",1,left knee,felt fine", ",,,") + SECOND.replace("squat,2,", "squat,3,")
    )

    assert report.changes == [
        "bo, 2026-04-13, Base week 1 A: minutes 31.5 → 35; pain 1 → none; pain region left knee → none; another note; "
        "Goblet squat set 2 gone (6 x 20 kg, rest 80 s); Goblet squat set 3 added (6 x 20 kg, rest 80 s)"
    ]


def test_a_third_revision_follows_the_second(load: Load):
    for reps in (8, 7, 6):
        load(LOOSE.replace(",8,20", f",{reps},20"))

    revisions = list(Submission.objects.values_list("revision", "verdict"))
    assert revisions == [(1, "replaced"), (2, "replaced"), (3, "accepted")]
    assert SetLog.objects.get().reps == 6


def test_going_back_to_what_was_first_told_is_a_revision_too(load: Load):
    for reps in (8, 7, 8):
        report = load(LOOSE.replace(",8,20", f",{reps},20"))

    assert (report.changed, Submission.objects.count(), SetLog.objects.get().reps) == (1, 3, 8)


def test_details_that_come_later_replace_a_told_session(load: Load):
    load(TOLD)

    report = load(LOOSE)

    assert report.changes == ["bo, 2026-04-14: with details; Row set 1 added (8 x 20 kg)"]
    assert SessionLog.objects.get().has_details


def test_a_submission_may_move_to_another_day(load: Load):
    load(LOOSE.replace(",\n", f",{ONE_UUID}\n"))

    report = load(LOOSE.replace(",\n", f",{ONE_UUID.upper()}\n").replace("2026-04-14", "2026-04-12"))

    assert report.changes == ["bo, 2026-04-14: performed on 2026-04-14 → 2026-04-12"]
    assert SessionLog.objects.count() == 1


def test_the_same_submission_of_another_client_is_another_log(load: Load, coach: Coach):
    ClientFactory(lead=coach, key="ana")
    load(LOOSE.replace(",\n", f",{ONE_UUID}\n"))

    report = load(LOOSE.replace(",\n", f",{ONE_UUID}\n").replace("bo,", "ana,"))

    assert (report.created, SessionLog.objects.count()) == (1, 2)


def test_sets_told_in_another_order_are_a_correction(load: Load):
    curl = LOOSE.replace("Row", "Curl")
    load(LOOSE + curl)

    report = load(curl + LOOSE)

    assert report.changes == ["bo, 2026-04-14: told in another order"]


def test_a_log_whose_planned_session_went_away_is_tied_to_the_one_there_now(load: Load, planned: PlannedSession):
    load(FIRST)
    again = PlannedSession.objects.get()
    SessionLog.objects.update(planned_session=None)

    report = load(FIRST)

    assert report.changed == 1
    assert SessionLog.objects.get().planned_session == again


def test_a_log_that_was_taken_away_is_recorded_again(load: Load):
    load(LOOSE)
    SessionLog.objects.all().delete()

    report = load(LOOSE)

    assert report.changes == ["bo, 2026-04-14: recorded again, its log was gone"]
    assert (SessionLog.objects.count(), SetLog.objects.count()) == (1, 1)


def test_a_client_who_turns_out_to_use_pounds_is_corrected_by_the_same_file(load: Load):
    load(LOOSE)
    Client.objects.update(unit="lb")

    report = load(LOOSE)

    assert report.changes == ["bo, 2026-04-14: Row set 1: 8 x 20 kg → 8 x 20 lb"]
    assert SetLog.objects.get().load_g == 9_072
