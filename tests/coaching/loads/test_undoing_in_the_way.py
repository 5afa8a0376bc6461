"""What stands in the way of undoing a load, said in words; then nothing is changed."""

from __future__ import annotations

import pytest

from coaching.loads.models import Load
from coaching.loads.undoing import UndoRefused
from coaching.monitoring.models import FlagEvent
from roster.blocks.models import Exercise
from roster.logs.models import ExtraWork, SessionLog, Submission
from roster.people.models import Client, Coach, Note
from tests.coaching.factories import CoachFactory
from tests.coaching.loads.studios import FIRST, PEOPLE, PLAN, SECOND, FileRow, how_it_stands, load, undo
from tests.plain_twin.small_files import asked, client, done


def in_the_way(one: Load, by: Coach) -> list[str]:
    """What is said on refusing, after a look that nothing was changed."""
    before = how_it_stands(by)
    with pytest.raises(UndoRefused) as refused:
        undo(one, by)
    assert how_it_stands(by) == before
    found = refused.value.in_the_way
    return [*(f"first {later.file_name}" for later in found.later_loads), *found.sentences]


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


def test_a_unit_in_which_logs_were_read_since_is_not_put_back(trained: Coach) -> None:
    taken = load("clients", [client(unit="lb")], trained)
    load("logs", SECOND, trained)
    Submission.objects.update(received_at="2026-05-01T00:00:00Z")

    assert "ana: the unit was changed, and blocks or logs were read in it since." in in_the_way(taken, trained)


def test_an_exercise_that_others_count_in_its_measure_is_in_the_way(trained: Coach) -> None:
    taken = load("logs", done("2026-01-20", {"Plank": "30"}, names=""), trained)
    Exercise.objects.filter(name="Plank").update(measure="s")
    load("logs", done("2026-01-22", {"Plank": "40"}, names=""), trained)

    assert in_the_way(taken, trained) == ["The exercise “Plank”, made by this load, is used by others since."]


def test_somebody_elses_clients_are_not_touched_by_an_undo(trained: Coach) -> None:
    taken = load("logs", SECOND, trained)
    Client.objects.update(lead=CoachFactory(studio=trained.studio))
    Coach.objects.filter(pk=trained.pk).update(role=Coach.Role.COACH)
    trained.refresh_from_db()

    assert in_the_way(taken, trained) == ["It touched 1 client whom you may not change."]
