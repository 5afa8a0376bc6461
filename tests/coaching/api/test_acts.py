"""What a program does about findings: the acts of the pages and their rules, on the state that it has read.

ASVS 5.0 2.3.3, 15.4.2: all of it or nothing, and checked in the same step. ASVS 5.0 8.2.2, 15.3.3: whose finding it is,
and no other members than are asked for.
"""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from coaching.monitoring.models import ClientState, Flag, FlagEvent, Kind, Urgency
from roster.people.models import Client, Coach, Contact
from tests.coaching.api.programs import Program, problem
from tests.coaching.factories import WEDNESDAY, CoachFactory, FlagFactory

pytestmark = pytest.mark.usefixtures("wednesday")
TOMORROW = WEDNESDAY + timedelta(days=1)
ACTS: dict[str, dict[str, Any]] = {
    "seen": {"note": "slept badly"},
    "put-aside": {"until": "2026-04-20"},
    "close": {"note": "new load agreed"},
}


def read(program: Program, kind: Kind = Kind.STALL) -> tuple[str, str]:
    """The finding's address and its present ETag."""
    row = next(row for row in program.all_rows("flags/") if row["kind"] == kind.value)
    address = f"flags/{row['id']}/"
    return address, program.get(address).headers["ETag"]


def act(program: Program, what: str, kind: Kind = Kind.STALL, **body: Any) -> Any:
    address, etag = read(program, kind)
    return program.post(f"{address}{what}/", body or ACTS[what], **{"if-match": etag})


def test_seen_keeps_the_day_the_coach_and_the_note(program: Program, coach: Coach, stall: Flag) -> None:
    answer = act(program, "seen")

    event = FlagEvent.objects.get()
    assert (answer.status_code, answer.json()["seen_on"]) == (200, WEDNESDAY.isoformat())
    assert (event.what, event.by, event.note, event.on) == ("seen", coach, "slept badly", WEDNESDAY)


def test_put_aside_is_told_and_kept(program: Program, stall: Flag) -> None:
    answer = act(program, "put-aside")

    stall.refresh_from_db()
    assert answer.json()["put_aside_until"] == stall.put_aside_until.isoformat() == "2026-04-20"
    assert [row["put_aside_until"] for row in program.all_rows("flags/")] == ["2026-04-20"]


def test_what_is_closed_is_in_no_list_but_still_read_by_its_id(program: Program, stall: Flag) -> None:
    address, _ = read(program)

    act(program, "close")

    assert program.all_rows("flags/") == []
    assert program.get(address).json()["closed_on"] == WEDNESDAY.isoformat()


def test_the_answer_s_etag_is_that_of_the_next_read(program: Program, stall: Flag) -> None:
    answer = act(program, "seen")

    address, etag = read(program)
    assert answer.headers["ETag"] == etag
    assert program.get(address, **{"if-none-match": etag}).status_code == 304


@pytest.mark.parametrize("what", ACTS)
def test_an_act_without_the_state_it_is_about_is_refused(program: Program, stall: Flag, what: str) -> None:
    address, _ = read(program)

    told = problem(program.post(f"{address}{what}/", ACTS[what]))

    assert (told["status"], FlagEvent.objects.count()) == (428, 0)


@pytest.mark.parametrize("what", ACTS)
@pytest.mark.parametrize("first", ACTS)
def test_an_act_on_a_state_that_is_over_is_refused(program: Program, stall: Flag, what: str, first: str) -> None:
    address, etag = read(program)
    act(program, first)

    told = problem(program.post(f"{address}{what}/", ACTS[what], **{"if-match": etag}))

    assert (told["status"], FlagEvent.objects.count()) == (412, 1)


def test_a_state_that_became_worse_is_another(program: Program, stall: Flag) -> None:
    address, etag = read(program)
    Flag.objects.update(urgency=Urgency.ACT)

    assert problem(program.post(f"{address}seen/", {}, **{"if-match": etag}))["status"] == 412


@pytest.mark.parametrize(("given", "status"), [("*", 200), ('"a", {etag}', 200), ("W/{etag}", 412), ("soon", 412)])
def test_if_match_as_http_has_it(program: Program, stall: Flag, given: str, status: int) -> None:
    address, etag = read(program)

    answer = program.post(f"{address}seen/", {}, **{"if-match": given.replace("{etag}", etag)})

    assert answer.status_code == status


def test_pain_is_put_aside_for_a_day_at_most_with_a_contact(program: Program, pain: Flag) -> None:
    longer = act(program, "put-aside", Kind.PAIN, until="2026-04-17", contact="call")
    silent = act(program, "put-aside", Kind.PAIN, until=TOMORROW.isoformat())
    assert [problem(answer)["status"] for answer in (longer, silent)] == [422, 422]
    assert not Contact.objects.exists()

    done = act(program, "put-aside", Kind.PAIN, until=TOMORROW.isoformat(), contact="call", note="rests it")

    contact = Contact.objects.get()
    assert done.status_code == 200
    assert (contact.how, contact.outcome, contact.made_on) == ("call", "rests it", WEDNESDAY)


@pytest.mark.parametrize("what", ACTS)
def test_a_second_act_on_what_was_closed_is_refused(program: Program, stall: Flag, what: str) -> None:
    address, _ = read(program)
    act(program, "close")
    etag = program.get(address).headers["ETag"]

    told = problem(program.post(f"{address}{what}/", ACTS[what], **{"if-match": etag}))

    assert (told["status"], told["detail"]) == (422, "It is closed already.")


@pytest.mark.parametrize(
    ("what", "body", "pointer"),
    [
        ("put-aside", {}, "#/until"),
        ("put-aside", {"until": "soon"}, "#/until"),
        ("close", {}, "#/note"),
        ("close", {"note": "  "}, "#/note"),
        ("seen", {"note": "x" * 2001}, "#/note"),
        ("seen", {"note": ["x"]}, "#/note"),
        ("seen", {"contact": "pigeon"}, "#/contact"),
        ("seen", {"seen_on": "2026-01-01"}, "#/seen_on"),
        ("seen", {"urgency": "good"}, "#/urgency"),
        ("seen", [], "#"),
        ("seen", {"note": "\x00"}, "#/note"),
    ],
)
def test_a_body_that_is_not_as_described(program: Program, stall: Flag, what: str, body: Any, pointer: str) -> None:
    address, etag = read(program)

    answer = program.browser.post(
        f"/api/v1/{address}{what}/", body, content_type="application/json", headers={"if-match": etag}
    )

    told = problem(answer)
    assert (told["status"], [error["pointer"] for error in told["errors"]]) == (400, [pointer])
    assert not FlagEvent.objects.exists()


@pytest.mark.parametrize("until", ["2026-04-15", "2026-04-14", "2027-05-01"])
def test_a_day_that_makes_no_sense_is_refused(program: Program, stall: Flag, until: str) -> None:
    assert problem(act(program, "put-aside", until=until))["status"] == 422
    assert not FlagEvent.objects.exists()


def test_an_assistant_reads_and_does_not_act(coach: Coach, bo: Client, stall: Flag) -> None:
    assistant = CoachFactory(studio=coach.studio, role=Coach.Role.ASSISTANT)
    bo.shared_with.add(assistant)
    program = Program(assistant)

    assert [problem(act(program, what))["status"] for what in ACTS] == [404, 404, 404]
    assert not FlagEvent.objects.exists()


@pytest.mark.parametrize("what", ACTS)
def test_a_finding_of_another_studio_is_not_here(program: Program, outsider: Coach, stall: Flag, what: str) -> None:
    address, etag = read(program)

    foreign = Program(outsider).post(f"{address}{what}/", ACTS[what], **{"if-match": etag})
    none = Program(outsider).post(f"flags/00000000-0000-4000-8000-000000000000/{what}/", ACTS[what])

    assert problem(foreign) == problem(none)
    assert foreign.status_code == 404
    assert not FlagEvent.objects.exists()


def test_an_act_after_midnight_is_about_the_new_day(program: Program, client: Client) -> None:
    """Facts stand as at yesterday: the finding is gone once they are computed anew, and nothing is done."""
    FlagFactory(client=client, kind=Kind.STALL, subject="Goblet squat")
    ClientState.objects.create(client=client, as_of=WEDNESDAY)
    address, etag = read(program)
    ClientState.objects.update(as_of=WEDNESDAY - timedelta(days=1))

    answer = program.post(f"{address}seen/", {}, **{"if-match": etag})

    assert problem(answer)["status"] == 404
    assert FlagEvent.objects.filter(what="seen").count() == 0
