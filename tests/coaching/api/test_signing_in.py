"""Who a program speaks for, how far, and until when.

ASVS 5.0 2.4.1, 7.4.2, 8.2.1, 14.2.1: so much at once, nobody let go, what a token is for, none in an address.
"""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.test import Client as Browser
from django.utils import timezone
from time_machine import TimeMachineFixture

from coaching.api import throttles
from coaching.api.models import AccessToken, Scope
from coaching.api.tokens import forget_ended_tokens, make_token
from coaching.monitoring.models import Flag, FlagEvent
from roster.people.models import Client, Coach
from tests.coaching.api.programs import V1, Program, problem
from tests.coaching.factories import WEDNESDAY

pytestmark = pytest.mark.usefixtures("wednesday")


def test_a_token_is_kept_as_its_digest_alone(program: Program) -> None:
    kept = AccessToken.objects.values().get()

    assert program.token.startswith("muster_")
    assert program.token not in str(kept)
    assert len(kept["digest"]) == 128


def test_a_token_opens_what_its_person_sees(program: Program, client: Client) -> None:
    assert [row["client"] for row in program.all_rows("clients/")] == [client.key]


@pytest.mark.parametrize("header", ["Bearer", "Bearer x y", "Bearer muster_0", "Bearer mü", "Token x", "Basic eDp5"])
def test_anything_else_in_the_header_opens_nothing(db: None, header: str) -> None:
    answer = Browser().get(f"{V1}clients/", headers={"authorization": header})

    assert problem(answer)["status"] == 401


@pytest.mark.parametrize("name", ["token", "access_token", "authorization", "auth"])
def test_a_token_in_the_address_opens_nothing(program: Program, name: str) -> None:
    assert Browser().get(f"{V1}clients/?{name}={program.token}").status_code == 401


def test_a_token_ends_on_its_day(program: Program, time_machine: TimeMachineFixture) -> None:
    time_machine.move_to(timezone.now() + timedelta(days=30, seconds=1))

    assert problem(program.get("clients/"))["status"] == 401


def test_a_token_ends_with_the_password(program: Program, coach: Coach) -> None:
    coach.set_password("a second kettle of tea")
    coach.save()

    assert problem(program.get("clients/"))["status"] == 401


def test_a_token_of_somebody_let_go_opens_nothing_and_is_gone_for_good(program: Program, coach: Coach) -> None:
    Coach.objects.filter(pk=coach.pk).update(is_active=False)
    assert problem(program.get("clients/"))["status"] == 401

    forgotten = forget_ended_tokens(timezone.now())
    Coach.objects.filter(pk=coach.pk).update(is_active=True)

    assert (forgotten, program.get("clients/").status_code) == (1, 401)


def test_forgetting_leaves_what_still_opens_something(program: Program, coach: Coach, outsider: Coach) -> None:
    make_token(coach=coach, name="over", scopes=["read"], days=0)
    make_token(coach=outsider, name="older than the password", scopes=["read"], days=30)
    outsider.set_password("a second kettle of tea")
    outsider.save()

    forgotten = forget_ended_tokens(timezone.now())

    assert (forgotten, list(AccessToken.objects.all())) == (2, [program.row])


def test_a_token_that_may_only_read_does_not_act(coach: Coach, stall: Flag) -> None:
    reader = Program(coach, [Scope.READ])
    address = reader.all_rows("flags/")[0]["id"]

    told = problem(reader.post(f"flags/{address}/seen/", {}, **{"if-match": "*"}))

    assert (told["status"], FlagEvent.objects.count()) == (403, 0)
    assert "“act”" in told["detail"]


def test_a_token_that_may_only_act_does_not_read(coach: Coach) -> None:
    assert problem(Program(coach, [Scope.ACT]).get("clients/"))["status"] == 403


def test_use_is_written_down_every_few_minutes(program: Program, time_machine: TimeMachineFixture) -> None:
    began = timezone.now()
    for minutes in (0, 4, 6):
        time_machine.move_to(began + timedelta(minutes=minutes), tick=False)
        program.get("clients/")
        program.row.refresh_from_db()
        assert program.row.last_used_at == began + timedelta(minutes=minutes if minutes > 5 else 0)


def test_the_session_of_the_desk_reads(coach: Coach, client: Client) -> None:
    browser = Browser()
    browser.force_login(coach)

    assert browser.get(f"{V1}clients/").json()["results"][0]["client"] == client.key


def test_the_session_of_the_desk_acts_with_its_csrf_token_alone(coach: Coach, program: Program, stall: Flag) -> None:
    browser = Browser(enforce_csrf_checks=True)
    browser.force_login(coach)
    address = f"{V1}flags/{program.all_rows('flags/')[0]['id']}/seen/"
    browser.get("/clients/")
    known = {"if-match": "*", "x-csrftoken": browser.cookies["csrftoken"].value}

    refused = browser.post(address, {}, content_type="application/json", headers={"if-match": "*"})
    done = browser.post(address, {}, content_type="application/json", headers=known)

    assert (problem(refused)["status"], done.status_code) == (403, 200)
    stall.refresh_from_db()
    assert stall.seen_on == WEDNESDAY


def test_a_token_may_ask_so_much_in_a_minute(
    program: Program, coach: Coach, monkeypatch: pytest.MonkeyPatch, time_machine: TimeMachineFixture
) -> None:
    monkeypatch.setattr(throttles, "READS_A_WINDOW", 2)
    another = Program(coach)

    answers = [program.get("clients/") for _ in range(3)]

    assert [answer.status_code for answer in answers] == [200, 200, 429]
    assert problem(answers[2])["type"].endswith("#too-many")
    assert 1 <= int(answers[2].headers["Retry-After"]) <= 61
    assert another.get("clients/").status_code == 200
    time_machine.move_to(timezone.now() + timedelta(seconds=61))
    assert program.get("clients/").status_code == 200


def test_acts_are_counted_by_themselves(
    program: Program, stall: Flag, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(throttles, "ACTS_A_WINDOW", 1)
    address = program.all_rows("flags/")[0]["id"]

    answers = [program.post(f"flags/{address}/seen/", {}, **{"if-match": "*"}) for _ in range(2)]

    assert [answer.status_code for answer in answers] == [200, 429]
