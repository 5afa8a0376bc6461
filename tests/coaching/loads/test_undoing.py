"""Undoing a load leaves the record as if the file had never been taken, or says what stands in its way."""

from __future__ import annotations

import hashlib
from itertools import chain
from pathlib import Path

import pytest

from coaching.loads.loading import load_file
from coaching.loads.models import KeptSubmission, Load
from coaching.loads.undoing import UndoRefused, plan_undo, undo_load
from coaching.monitoring.models import FlagEvent
from roster.blocks.models import Exercise
from roster.logs.models import ExtraWork, SessionLog, SetLog, Submission
from roster.people.models import Client, Coach, Note
from roster.watching import Thing
from tests.coaching.factories import CoachFactory
from tests.coaching.loads.studios import NOW, FileRow, how_it_stands, load
from tests.plain_twin.small_files import asked, client, done, told

PEOPLE = [client(kit="dumbbell: 10, 20"), client(client="bo", goal="A pull-up")]
PLAN = [asked(week=str(week), load=str(18 + 2 * week)) for week in (1, 2)]
FIRST, SECOND = done("2026-01-05", minutes="30"), done("2026-01-12", "8@22 7@22 6@22", names="2 A", pain="3")


@pytest.fixture
def trained(coach: Coach) -> Coach:
    """Two people, a block, and the log of its first week."""
    load("clients", PEOPLE, coach)
    load("blocks", PLAN, coach)
    load("logs", FIRST, coach)
    return coach


def undo(one: Load, by: Coach) -> None:
    undo_load(one, by=by, now=NOW)


def in_the_way(one: Load, by: Coach) -> list[str]:
    """What is said on refusing, after a look that nothing was changed."""
    before = how_it_stands(by)
    with pytest.raises(UndoRefused) as refused:
        undo(one, by)
    assert how_it_stands(by) == before
    found = refused.value.in_the_way
    return [*(f"first {later.file_name}" for later in found.later_loads), *found.sentences]


@pytest.mark.parametrize(
    ("kind", "rows"),
    [
        ("logs", SECOND),
        ("logs", [*FIRST, *SECOND]),
        ("logs", done("2026-01-05", "8@20 8@20 9@22", minutes="35", note="Better", pain="4")),
        ("logs", told("2026-01-05", pain="6")),
        ("logs", done("2026-01-20", {"Nordic curl": "30@0 5"}, names="")),
        ("blocks", [asked(block="Next", starts_on="2026-03-02", exercise="Press")]),
        ("blocks", [PLAN[0], asked(week="2", load="30", day="thu"), asked(week="3", exercise="Row", load="")]),
        ("blocks", [PLAN[0]]),
        ("clients", [client(client="cy"), client(kit="dumbbell: 12; kettlebell: 8", goal="Stairs", minutes="40")]),
        ("clients", [client(pauses="2026-01-12..2026-01-18", kit="")]),
    ],
)
def test_what_a_load_did_is_gone_to_the_last_row(trained: Coach, kind: str, rows: list[FileRow]) -> None:
    before = how_it_stands(trained)
    taken = load(kind, rows, trained)
    assert how_it_stands(trained) != before

    undo(taken, trained)

    assert how_it_stands(trained) == before


@pytest.mark.parametrize("rows", [SECOND, done("2026-01-05", "8@20 8@20 9@22", minutes="35")])
def test_the_same_file_after_an_undo_loads_afresh(trained: Coach, rows: list[FileRow]) -> None:
    first = load("logs", rows, trained)
    after = how_it_stands(trained)
    undo(first, trained)

    second = load("logs", rows, trained)

    assert how_it_stands(trained) == after
    assert (second.created, second.changed, second.unchanged) == (first.created, first.changed, first.unchanged)
    undo(second, trained)


def test_an_undone_log_is_withdrawn_and_never_lost(trained: Coach) -> None:
    taken = load("logs", done("2026-01-05", "5@20"), trained)

    undo(taken, trained)

    first, second = Submission.objects.order_by("revision")
    assert (first.verdict, second.verdict) == ("accepted", "withdrawn")
    assert second.payload["rows"][0]["reps"] == "5"
    assert list(SetLog.objects.values_list("reps", flat=True)) == [8, 8, 8]


def test_a_number_is_not_given_twice(trained: Coach) -> None:
    undo(load("logs", done("2026-01-05", "5@20"), trained), trained)

    load("logs", done("2026-01-05", "6@20"), trained)

    revisions = Submission.objects.order_by("revision").values_list("revision", "verdict")
    assert list(revisions) == [(1, "replaced"), (2, "withdrawn"), (3, "accepted")]


def test_an_undo_happens_once(trained: Coach) -> None:
    taken = load("logs", SECOND, trained)
    undo(taken, trained)

    with pytest.raises(UndoRefused, match="undone already"):
        undo(taken, trained)

    assert Load.objects.get(pk=taken.pk).undone_by == trained


def test_who_undid_it_and_when_is_on_record(trained: Coach) -> None:
    taken = load("logs", SECOND, trained)

    undo(taken, trained)

    taken.refresh_from_db()
    assert (taken.undone_by, taken.undone_at) == (trained, NOW)


def test_a_load_that_a_later_one_corrected_waits_for_that_one(trained: Coach) -> None:
    earlier = load("logs", SECOND, trained, name="earlier.csv")
    later = load("logs", done("2026-01-12", "8@22 8@22 8@22", names="2 A"), trained, name="later.csv")

    assert in_the_way(earlier, trained) == ["first later.csv"]

    undo(later, trained)
    undo(earlier, trained)


@pytest.mark.parametrize(
    ("kind", "rows", "again"),
    [
        ("logs", SECOND, SECOND),
        ("blocks", [asked(block="Next")], [asked(block="Next")]),
        ("clients", [client(client="cy")], [client(client="cy")]),
        ("clients", [client(goal="Stairs")], [client(goal="Stairs")]),
    ],
)
def test_what_a_later_file_says_again_stands_on_that_file(
    trained: Coach, kind: str, rows: list[FileRow], again: list[FileRow]
) -> None:
    earlier = load(kind, rows, trained)
    load(kind, again, trained, name="again.csv")

    assert in_the_way(earlier, trained) == ["first again.csv"]


def test_a_client_with_anything_to_their_name_stays(trained: Coach) -> None:
    taken = load("clients", [client(client="cy")], trained)
    Note.objects.create(client=Client.objects.get(key="cy"), written_by=trained, text="Called.")
    load("logs", done("2026-01-05", names="", client="cy")[:1], trained)

    said = ["first logs.csv", "cy: 1 note, 1 session log and 1 submission came to it since."]
    assert in_the_way(taken, trained) == said


def test_what_a_coach_did_about_a_finding_keeps_its_client(trained: Coach) -> None:
    taken = load("clients", [client(client="cy")], trained)
    FlagEvent.objects.create(
        client=Client.objects.get(key="cy"), kind="turnout", what="seen", on="2026-04-14", urgency="act", by=trained
    )

    assert in_the_way(taken, trained) == ["cy: 1 flag event came to it since."]


def test_a_block_that_logs_name_stays(coach: Coach) -> None:
    load("clients", PEOPLE, coach)
    plan = load("blocks", PLAN, coach)
    logs = load("logs", FIRST, coach)

    assert in_the_way(plan, coach) == ["first logs.csv", "ana, Base: 1 session log came to it since."]

    undo(logs, coach)
    undo(plan, coach)


def test_an_added_session_that_logs_name_stays(trained: Coach) -> None:
    taken = load("blocks", [*PLAN, asked(week="3")], trained)
    load("logs", done("2026-01-19", names="3 A"), trained)

    assert in_the_way(taken, trained) == ["first logs.csv", "ana, Base: 1 session log came to it since."]


def test_a_log_with_more_to_it_stays(trained: Coach) -> None:
    taken = load("logs", SECOND, trained)
    ExtraWork.objects.create(session_log=SessionLog.objects.get(performed_on="2026-01-12"), what="walk", minutes=20)

    assert in_the_way(taken, trained) == ["ana, 2026-01-12: 1 extra work came to it since."]


def test_a_value_that_was_changed_since_is_not_put_back(trained: Coach) -> None:
    taken = load("clients", [client(goal="Stairs")], trained)
    Client.objects.filter(key="ana").update(goal="A mountain")

    assert in_the_way(taken, trained) == ["ana was changed since."]


def test_what_the_load_left_alone_may_have_changed_since(trained: Coach) -> None:
    taken = load("clients", [client(goal="Stairs")], trained)
    Client.objects.filter(key="ana").update(phone="+44 7700 900001")

    undo(taken, trained)

    assert Client.objects.values_list("goal", "phone").get(key="ana") == ("", "+44 7700 900001")


def test_a_unit_in_which_logs_were_read_since_is_not_put_back(trained: Coach) -> None:
    taken = load("clients", [client(unit="lb")], trained)
    load("logs", SECOND, trained)
    Submission.objects.update(received_at="2026-05-01T00:00:00Z")

    assert "ana: the unit was changed, and blocks or logs were read in it since." in in_the_way(taken, trained)


def test_an_exercise_that_others_use_stays_if_it_is_no_more_than_a_name(trained: Coach) -> None:
    taken = load("logs", done("2026-01-20", {"Nordic curl": "5"}, names=""), trained)
    load("logs", done("2026-01-22", {"Nordic curl": "6"}, names=""), trained)
    assert plan_undo(taken, trained).exercises_staying == ["Nordic curl"]

    undo(taken, trained)

    assert Exercise.objects.filter(name="Nordic curl").exists()


def test_an_exercise_that_others_count_in_its_measure_is_in_the_way(trained: Coach) -> None:
    taken = load("logs", done("2026-01-20", {"Plank": "30"}, names=""), trained)
    Exercise.objects.filter(name="Plank").update(measure="s")
    load("logs", done("2026-01-22", {"Plank": "40"}, names=""), trained)

    assert in_the_way(taken, trained) == ["The exercise “Plank”, made by this load, is used by others since."]


def test_everything_can_be_undone_last_first_and_logs_are_kept_apart(coach: Coach) -> None:
    before = how_it_stands(coach)
    loads = [load("clients", PEOPLE, coach), load("blocks", PLAN, coach), load("logs", [*FIRST, *SECOND], coach)]

    for one in reversed(loads):
        undo(one, coach)

    assert how_it_stands(coach) == before
    assert (Client.objects.count(), Exercise.objects.count(), Submission.objects.count()) == (0, 0, 0)
    kept = KeptSubmission.objects.values_list("client_key", "payload__rows__0__performed_on")
    assert list(kept) == [("ana", "2026-01-05"), ("ana", "2026-01-12")]


def test_somebody_elses_clients_are_not_touched_by_an_undo(trained: Coach) -> None:
    taken = load("logs", SECOND, trained)
    Client.objects.update(lead=CoachFactory(studio=trained.studio))
    Coach.objects.filter(pk=trained.pk).update(role=Coach.Role.COACH)
    trained.refresh_from_db()

    assert in_the_way(taken, trained) == ["It touched 1 client whom you may not change."]


def test_the_plan_of_an_undo_counts_what_goes_and_what_goes_back(trained: Coach) -> None:
    rows = [*done("2026-01-05", "5@20"), *SECOND, *done("2026-01-20", {"Nordic curl": "5"}, names="")]
    taken = load("logs", rows, trained)

    plan = plan_undo(taken, trained)

    assert (plan.going[Thing.LOG], plan.going_back[Thing.LOG], plan.going[Thing.EXERCISE]) == (2, 1, 1)
    assert not plan.in_the_way


def test_when_the_facts_cannot_be_computed_nothing_is_undone(trained: Coach, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object, **__: object) -> None:
        raise OSError("disk full")

    taken, before = load("logs", SECOND, trained), how_it_stands(trained)
    monkeypatch.setattr("coaching.loads.loading.refresh_clients", fail)

    with pytest.raises(OSError, match="disk full"):
        undo(taken, trained)

    taken.refresh_from_db()
    assert taken.undone_at is None
    assert how_it_stands(trained) == before


def test_every_file_through_the_command_is_on_record(tmp_path: Path, coach: Coach) -> None:
    path = tmp_path / "people.csv"
    path.write_text("client,joined_on\nana,2026-01-01\n")

    load_file("clients", path, coach.studio, by=coach)
    load_file("clients", path, coach.studio, by=coach)
    load_file("clients", path, coach.studio, by=coach, check_only=True)

    again, first = Load.objects.all()
    assert (first.door, first.kind, first.file_name, first.by) == ("command", "clients", "people.csv", coach)
    assert [(one.created, one.unchanged, one.rows) for one in (first, again)] == [(1, 0, 1), (0, 1, 1)]
    assert first.digest == again.digest == hashlib.sha256(path.read_bytes()).hexdigest()


def test_a_load_touches_no_rows_beside_its_own(trained: Coach) -> None:
    other = Client.objects.get(key="bo")
    taken = load("logs", SECOND, trained)
    computed_at = other.state_of_facts.computed_at

    undo(taken, trained)

    other.state_of_facts.refresh_from_db()
    assert other.state_of_facts.computed_at == computed_at
    assert list(chain.from_iterable(taken.made["log"]))
