"""Undoing a load leaves the record as if the file had never been taken."""

from __future__ import annotations

import hashlib
from itertools import chain
from pathlib import Path

import pytest

from coaching.loads.loading import load_file
from coaching.loads.models import KeptSubmission, Load
from coaching.loads.undoing import UndoRefused, plan_undo
from roster.blocks.models import Exercise
from roster.logs.models import SetLog, Submission
from roster.people.models import Client, Coach
from roster.watching import Thing
from tests.coaching.loads.studios import FIRST, NOW, PEOPLE, PLAN, SECOND, FileRow, how_it_stands, load, undo
from tests.plain_twin.small_files import asked, client, done, told


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


def test_what_the_load_left_alone_may_have_changed_since(trained: Coach) -> None:
    taken = load("clients", [client(goal="Stairs")], trained)
    Client.objects.filter(key="ana").update(phone="+44 7700 900001")

    undo(taken, trained)

    assert Client.objects.values_list("goal", "phone").get(key="ana") == ("", "+44 7700 900001")


def test_an_exercise_that_others_use_stays_if_it_is_no_more_than_a_name(trained: Coach) -> None:
    taken = load("logs", done("2026-01-20", {"Nordic curl": "5"}, names=""), trained)
    load("logs", done("2026-01-22", {"Nordic curl": "6"}, names=""), trained)
    assert plan_undo(taken, trained).exercises_staying == ["Nordic curl"]

    undo(taken, trained)

    assert Exercise.objects.filter(name="Nordic curl").exists()


def test_everything_can_be_undone_last_first_and_logs_are_kept_apart(coach: Coach) -> None:
    before = how_it_stands(coach)
    loads = [load("clients", PEOPLE, coach), load("blocks", PLAN, coach), load("logs", [*FIRST, *SECOND], coach)]

    for one in reversed(loads):
        undo(one, coach)

    assert how_it_stands(coach) == before
    assert (Client.objects.count(), Exercise.objects.count(), Submission.objects.count()) == (0, 0, 0)
    kept = KeptSubmission.objects.values_list("client_key", "payload__rows__0__performed_on")
    assert list(kept) == [("ana", "2026-01-05"), ("ana", "2026-01-12")]


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
