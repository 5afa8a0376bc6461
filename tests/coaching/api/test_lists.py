"""Lists: page after page, filtered, of whom one may see; as many queries for many clients as for few.

ASVS 5.0 8.2.2, 8.2.3, 15.3.1: only rows, and members of rows, that are one's to see.
"""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from coaching.monitoring.models import Flag, Kind, Status, Urgency
from roster.blocks.models import Block
from roster.people.models import Client, Coach, ViewRecord
from tests.coaching.api.programs import Program
from tests.coaching.desk.packs import kept
from tests.coaching.factories import (
    MONDAY,
    WEDNESDAY,
    BlockFactory,
    ClientFactory,
    ClientStateFactory,
    CoachFactory,
    ExerciseFactory,
    ExposureFactFactory,
    FlagFactory,
    LogFactFactory,
    PlannedExerciseFactory,
    PlannedSessionFactory,
    SessionFactFactory,
    SetLogFactory,
    WeekFactFactory,
)

pytestmark = pytest.mark.usefixtures("wednesday")
OF_CLIENTS = ["clients", "blocks", "planned-sessions", "session-logs", "weeks", "exposures", "flags", "turnout",
              "check-in-packs"]  # fmt: skip
NOBODY = "00000000-0000-4000-8000-000000000000"
# How many sessions, logs, weeks and exposures a full client has.
TIMES = 3


def fill(client: Client) -> None:
    """Three sessions asked and done, their weeks and exposures, and two findings."""
    exercise, block = ExerciseFactory(studio=client.studio), BlockFactory(client=client, weeks=TIMES)
    for week in range(1, TIMES + 1):
        planned = PlannedExerciseFactory(session=PlannedSessionFactory(block=block, week=week), exercise=exercise)
        fact = SessionFactFactory(planned_session=planned.session, status=Status.values[week % 2])
        log = LogFactFactory(session_log__client=client, planned_session=planned.session).session_log
        SetLogFactory(session_log=log, exercise=exercise)
        fact.session_log = log
        fact.save()
        ExposureFactFactory(planned_exercise=planned, session_log=log, met=week != 1)
        WeekFactFactory(client=client, week_start=MONDAY - timedelta(weeks=week))
    kept(client, client.lead)
    FlagFactory(client=client, kind=Kind.STALL, subject=exercise.name, exercise=exercise)
    FlagFactory(client=client, kind=Kind.TURNOUT, subject="quiet", urgency=Urgency.ACT)
    ClientStateFactory(client=client)


@pytest.fixture
def clients(coach: Coach) -> list[Client]:
    made = [ClientFactory(lead=coach) for _ in range(5)]
    for client in made:
        fill(client)
    return made


@pytest.mark.parametrize("resource", [*OF_CLIENTS, "exercises"])
def test_pages_of_any_size_hold_every_row_once_and_in_the_same_order(
    program: Program, clients: list[Client], resource: str
) -> None:
    whole = program.all_rows(f"{resource}/")

    assert whole
    for size in (1, 2, 7):
        assert program.all_rows(f"{resource}/?limit={size}") == whole


@pytest.mark.parametrize("resource", [*OF_CLIENTS, "exercises"])
def test_rows_that_come_in_meanwhile_disturb_no_page(
    program: Program, coach: Coach, clients: list[Client], resource: str
) -> None:
    whole = program.all_rows(f"{resource}/")
    first = program.get(f"{resource}/?limit=2").json()

    fill(ClientFactory(lead=coach))

    rest = program.all_rows(first["next"])
    assert [row for row in first["results"] + rest if row in whole] == whole


@pytest.mark.parametrize("resource", [*OF_CLIENTS, "exercises"])
def test_a_row_has_no_key_of_the_database(program: Program, clients: list[Client], resource: str) -> None:
    def numbers(value: Any) -> set[str]:
        inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
        names = {name for name, one in value.items() if isinstance(one, int)} if isinstance(value, dict) else set()
        return names.union(*(numbers(one) for one in inner))

    named = numbers(program.all_rows(f"{resource}/"))

    assert {name for name in named if name in {"id", "pk"} or name.endswith("_id")} == set()


@pytest.mark.parametrize("resource", OF_CLIENTS)
def test_another_studio_s_coach_sees_none_of_it(outsider: Coach, clients: list[Client], resource: str) -> None:
    program = Program(outsider)

    assert program.all_rows(f"{resource}/") == []
    assert program.all_rows(f"{resource}/?limit=1&as_of=2026-04-14" if resource in {"weeks", "flags"} else
                            f"{resource}/?limit=1") == []


@pytest.mark.parametrize("resource", [name for name in OF_CLIENTS if name != "clients"])
def test_a_client_of_others_is_filtered_for_as_one_who_does_not_exist(
    clients: list[Client], outsider: Coach, resource: str
) -> None:
    program = Program(outsider)

    foreign = program.get(f"{resource}/?client={clients[0].public_id}")
    none = program.get(f"{resource}/?client={NOBODY}")

    assert (foreign.status_code, foreign.content) == (none.status_code, none.content)
    assert foreign.json()["results"] == []


@pytest.mark.parametrize("resource", ["clients", "blocks", "planned-sessions", "session-logs", "exercises", "flags",
                                      "check-in-packs"])
def test_each_row_of_a_list_is_read_by_its_id_and_by_nobody_elsewhere(
    program: Program, outsider: Coach, clients: list[Client], resource: str
) -> None:
    for row in program.all_rows(f"{resource}/"):
        address = f"{resource}/{row['id']}/"

        assert program.get(address).json() == row
        assert Program(outsider).get(address).content == Program(outsider).get(f"{resource}/{NOBODY}/").content


def test_a_coach_sees_the_clients_that_they_lead(coach: Coach, clients: list[Client]) -> None:
    colleague = CoachFactory(studio=coach.studio)
    own = ClientFactory(lead=colleague)

    assert [row["client"] for row in Program(colleague).all_rows("clients/")] == [own.key]


def test_a_draft_is_not_told(program: Program, clients: list[Client]) -> None:
    Block.objects.update(published_at=None)

    assert program.all_rows("blocks/") == []


@pytest.mark.parametrize(
    ("address", "count"),
    [
        ("planned-sessions/?status=done", 1),
        ("planned-sessions/?status=done&status=partial", 3),
        ("planned-sessions/?week_from=2026-W17", 2),
        ("planned-sessions/?week_to=2026-W16", 1),
        ("planned-sessions/?suggested_from=2026-04-20&suggested_to=2026-04-26", 1),
        ("weeks/?week_from=2026-W15", 1),
        ("weeks/?week_from=2026-W14&week_to=2026-W14", 1),
        ("exposures/?met=true", 2),
        ("exposures/?met=false", 1),
        ("session-logs/?performed_to=2026-04-12", 0),
        ("session-logs/?has_details=true&standing=first", 3),
        ("flags/?kind=stall", 1),
        ("flags/?urgency=act&urgency=now", 1),
        ("flags/?pile=ring", 1),
        ("flags/?pile=ring&pile=plan", 2),
        ("flags/?pile=ring&kind=stall", 0),
        ("flags/?opened_from=2026-04-16", 0),
        ("blocks/?starts_from=2026-04-13", 1),
        ("blocks/?starts_from=2026-04-14", 0),
        ("turnout/?state=ended", 0),
    ],
)
def test_a_filter_leaves_what_it_says(program: Program, client: Client, address: str, count: int) -> None:
    fill(client)

    assert len(program.all_rows(address)) == count


def test_a_search_looks_in_name_key_and_address(program: Program, coach: Coach) -> None:
    ClientFactory(lead=coach, name="Ilse Brandt", key="x1", email="ilse@example.org")
    ClientFactory(lead=coach, name="Jo Tarn", key="x2")

    assert [len(program.all_rows(f"clients/?q={words}")) for words in ("brandt", "x2", "ilse@", "brandt x1", "no")] == [
        1, 1, 1, 1, 0,
    ]  # fmt: skip


def test_a_block_and_an_exercise_are_filtered_for_by_their_ids(program: Program, clients: list[Client]) -> None:
    exposure = program.all_rows("exposures/")[0]

    by_exercise = program.all_rows(f"exposures/?exercise={exposure['exercise_id']}")
    by_block = program.all_rows(f"planned-sessions/?block={exposure['block_id']}")
    logs = program.all_rows(f"session-logs/?planned_session={exposure['planned_session_id']}")

    assert (len(by_exercise), len(by_block), len(logs)) == (TIMES, TIMES, 1)


@pytest.mark.parametrize("resource", [*OF_CLIENTS, "exercises"])
def test_the_same_content_is_sent_once(program: Program, clients: list[Client], resource: str) -> None:
    first = program.get(f"{resource}/?limit=3")

    again = program.get(f"{resource}/?limit=3", **{"if-none-match": first.headers["ETag"]})
    other = program.get(f"{resource}/?limit=3", **{"if-none-match": '"another"'})

    assert (again.status_code, again.content, again.headers["ETag"]) == (304, b"", first.headers["ETag"])
    assert not first.headers["ETag"].startswith("W/")
    assert (other.status_code, other.content) == (200, first.content)


def test_another_content_has_another_etag(program: Program, clients: list[Client]) -> None:
    before = program.get("flags/").headers["ETag"]

    Flag.objects.filter(client=clients[0]).update(seen_on=WEDNESDAY)

    assert program.get("flags/").headers["ETag"] != before


@pytest.mark.parametrize("resource", [*OF_CLIENTS, "exercises"])
def test_many_clients_cost_the_queries_of_few(program: Program, coach: Coach, resource: str) -> None:
    for client in [ClientFactory(lead=coach) for _ in range(4)]:
        fill(client)
    program.get(f"{resource}/?limit=6")
    with CaptureQueriesContext(connection) as few:
        assert len(program.get(f"{resource}/?limit=6").json()["results"]) >= 4

    for client in [ClientFactory(lead=coach) for _ in range(26)]:
        fill(client)
    with CaptureQueriesContext(connection) as many:
        assert len(program.get(f"{resource}/?limit=6").json()["results"]) == 6

    assert len(many) <= len(few) <= 13


@pytest.mark.parametrize("resource", ["session-logs", "flags"])
def test_who_but_the_lead_was_shown_health_data_is_recorded_once_a_day(
    program: Program, coach: Coach, clients: list[Client], resource: str
) -> None:
    owner = CoachFactory(studio=coach.studio, role=Coach.Role.OWNER)
    program.all_rows(f"{resource}/")
    assert not ViewRecord.objects.exists()

    for _ in range(2):
        Program(owner).all_rows(f"{resource}/?limit=2")

    looked = ViewRecord.objects.values_list("coach", "client", "page")
    assert sorted(looked) == sorted((owner.pk, client.pk, f"api {resource}") for client in clients)
