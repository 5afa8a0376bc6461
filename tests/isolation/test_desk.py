"""Who gets what at the desk: every route, every client, everybody."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from itertools import product
from typing import Any
from uuid import UUID

import pytest
from django.contrib.auth.models import AnonymousUser
from django.db import connection
from django.http import HttpResponse
from django.urls import reverse

from coaching.monitoring.models import FlagEvent
from roster.people.models import Client, Contact, Note, ViewRecord
from tests.coaching.factories import WEDNESDAY
from tests.isolation.filled import FLAG_KIND, FilledClient
from tests.isolation.routes import Reach, Route, desk_routes
from tests.isolation.world import NOT_LET_IN, ONLY_READ, SEES, World

CLIENTS = ("north", "colleagues", "south")
NOBODY = UUID("00000000-0000-4000-8000-000000000000")
# What the pages over all clients can be asked for; the last few look for others' texts.
QUESTIONS = (
    "", "?whose=all", "?as_of=2026-04-14", "?whose=all&as_of=2026-04-14", "?state=all", "?state=ended", "?show=ended",
    "?whose=all&show=quiet", "?whose=all&sort=name", "?q=wort&state=all", "?q=quill", "?q=bladder", "?q=hornw",
)  # fmt: skip
STORY_QUESTIONS = ("", "?as_of=2026-04-14", "?reach=all", "?log=1", "?log=2")


def form_for(filled: FilledClient) -> dict[str, str]:
    """Right for every change that a client's routes offer."""
    return {"subject": f"{filled.word} lift", "text": "a word", "until": "2026-04-20", "how": "call"}


def values_of(filled: FilledClient) -> dict[str, Any]:
    return {"public_id": filled.client.public_id, "kind": FLAG_KIND, "document": "csv"}


def is_at_the_door(answer: HttpResponse) -> bool:
    return answer.status_code == 302 and answer.headers["Location"].startswith(reverse("account_login"))


def without_tokens(answer: HttpResponse) -> str:
    """The page but for what differs from one answer to the next anyhow."""
    return re.sub(r'name="csrfmiddlewaretoken" value="\w+"', "", answer.content.decode())


def told_beside(answer: HttpResponse) -> dict[str, str]:
    """Its headers, but for the number that no other answer has."""
    return {name: value for name, value in answer.headers.items() if name != "X-Request-ID"}


def written_rows() -> dict[str, int]:
    return {model.__name__: model.objects.count() for model in (FlagEvent, Contact, Note)}


@contextmanager
def writing(*tables: str) -> Iterator[None]:
    """Fails when the block changes any other table."""

    def watch(execute: Callable[..., Any], sql: str, *more: Any) -> Any:
        is_write = sql.split(" ", 1)[0] in {"INSERT", "UPDATE", "DELETE", "REPLACE"}
        assert not is_write or any(f'"{table}"' in sql for table in tables), sql
        return execute(sql, *more)

    with connection.execute_wrapper(watch):
        yield


@pytest.mark.parametrize(("who", "whose"), [*product(SEES, CLIENTS)])
def test_a_clients_page_is_for_those_who_may_see_them(world: World, who: str, whose: str) -> None:
    """ASVS 5.0 8.2.2"""
    browser, filled = world.browser_of(who), world.clients[whose]

    for route, question in product(desk_routes(Reach.READ), STORY_QUESTIONS):
        answer = browser.get(route.address(values_of(filled)) + question)

        if who in NOT_LET_IN:
            assert is_at_the_door(answer)
        else:
            assert answer.status_code == (200 if whose in SEES[who] else 404)
        assert (filled.word in answer.content.decode()) == (whose in SEES[who])


@pytest.mark.parametrize(("who", "whose"), [*product(SEES, CLIENTS)])
def test_a_client_is_changed_by_those_who_may_change_them(world: World, who: str, whose: str) -> None:
    """ASVS 5.0 8.2.1"""
    browser, filled, before = world.browser_of(who), world.clients[whose], written_rows()
    may_change = whose in SEES[who] and who not in ONLY_READ

    answers = [browser.post(one.address(values_of(filled)), form_for(filled)) for one in desk_routes(Reach.CHANGE)]

    if who in NOT_LET_IN:
        assert all(is_at_the_door(answer) for answer in answers)
    else:
        assert {answer.status_code for answer in answers} <= ({302, 422} if may_change else {404})
    assert (written_rows() != before) == may_change


@pytest.mark.parametrize("who", SEES)
def test_pages_over_all_clients_show_those_one_may_see_and_nothing_of_others(world: World, who: str) -> None:
    """ASVS 5.0 8.4.1"""
    browser = world.browser_of(who)

    for route, question in product(desk_routes(Reach.ROSTER), QUESTIONS):
        answer = browser.get(route.address({}) + question)

        page = answer.content.decode()
        assert is_at_the_door(answer) if who in NOT_LET_IN else answer.status_code == 200
        assert [word for word in world.hidden_words(who) if word in page] == []


@pytest.mark.parametrize("who", [who for who in SEES if SEES[who]])
def test_whom_one_may_see_is_found(world: World, who: str) -> None:
    listed = world.browser_of(who).get("/clients/?q=wort").content.decode()

    assert {key for key, filled in world.clients.items() if f"{filled.word} name" in listed} == SEES[who]


@pytest.mark.parametrize("who", [who for who in SEES if who not in NOT_LET_IN])
def test_nothing_of_others_shows_after_a_change_either(world: World, who: str) -> None:
    browser, filled = world.browser_of(who), world.clients["north"]

    for route in desk_routes(Reach.CHANGE):
        answer = browser.post(route.address(values_of(filled)), form_for(filled), follow=True)

        assert [word for word in world.hidden_words(who) if word in answer.content.decode()] == []


@pytest.mark.parametrize("who", [who for who in SEES if who not in NOT_LET_IN])
def test_somebody_elses_client_looks_like_nobody(world: World, who: str) -> None:
    browser, nobody = world.browser_of(who), {"public_id": NOBODY, "kind": FLAG_KIND, "document": "csv"}
    others = [filled for key, filled in world.clients.items() if key not in SEES[who]]

    for route, filled in product(desk_routes(Reach.READ), others):
        elses, none = browser.get(route.address(values_of(filled))), browser.get(route.address(nobody))

        assert without_tokens(elses) == without_tokens(none)
        assert told_beside(elses) == told_beside(none)


@pytest.mark.parametrize("who", SEES)
def test_the_heads_of_a_page_answer_as_the_page_does_and_show_nothing(world: World, who: str) -> None:
    browser = world.browser_of(who)

    for route in (*desk_routes(Reach.READ), *desk_routes(Reach.ROSTER)):
        address = route.address(values_of(world.clients["north"]))
        heads, page = browser.head(address), browser.get(address)

        assert (heads.status_code, heads.content) == (page.status_code, b"")


@pytest.mark.parametrize("route", [*desk_routes(Reach.CHANGE), *desk_routes(Reach.READ), *desk_routes(Reach.ROSTER)])
def test_other_ways_of_asking_lead_nowhere(world: World, route: Route) -> None:
    is_change = route in desk_routes(Reach.CHANGE)
    address, before = route.address(values_of(world.clients["north"])), written_rows()
    browsers = [world.browser_of(who) for who in SEES]

    answers = [
        getattr(browser, method)(address)
        for browser in browsers
        for method in (*(("get", "head") if is_change else ("post",)), "put", "patch", "delete", "options")
    ]

    assert {answer.status_code for answer in answers} == {405}
    assert written_rows() == before


@pytest.mark.parametrize("who", SEES)
def test_looking_changes_nothing_but_the_record_of_who_looked(world: World, who: str) -> None:
    browser, filled_clients = world.browser_of(who), world.clients.values()
    stories = [one.address(values_of(filled)) for one in desk_routes(Reach.READ) for filled in filled_clients]
    lists = [route.address({}) for route in desk_routes(Reach.ROSTER)]

    with writing(ViewRecord._meta.db_table):
        for address, method in product([*stories, *lists, reverse("account_login"), "/admin/"], ("get", "head")):
            getattr(browser, method)(address)
            getattr(browser, method)(address + "?as_of=2026-04-14")


@pytest.mark.parametrize("who", SEES)
def test_who_looked_is_recorded_for_everybody_but_the_lead(world: World, who: str) -> None:
    browser, filled = world.browser_of(who), world.clients["north"]
    ViewRecord.objects.all().delete()

    browser.get(reverse("client_story", args=[filled.client.public_id]))

    looked = [(view.coach, view.client) for view in ViewRecord.objects.all()]
    is_recorded = "north" in SEES[who] and who != "lead"
    assert looked == ([(world.people[who], filled.client)] if is_recorded else [])


@pytest.mark.parametrize("route", desk_routes(Reach.CHANGE))
def test_a_change_sent_from_elsewhere_is_refused(world: World, route: Route) -> None:
    browser, filled, before = world.browser_of("lead", with_csrf=True), world.clients["north"], written_rows()

    answer = browser.post(route.address(values_of(filled)), form_for(filled))

    assert answer.status_code == 403
    assert written_rows() == before


def test_a_finding_of_no_known_kind_is_not_here(world: World) -> None:
    filled = world.clients["north"]
    kinds = [route for route in desk_routes(Reach.CHANGE) if "<str:kind>" in route.pattern]

    answers = [
        world.browser_of("lead").post(route.address(values_of(filled) | {"kind": "moon"}), form_for(filled))
        for route in kinds
    ]

    assert [answer.status_code for answer in answers] == [404] * len(kinds)


def test_somebody_who_is_let_go_is_out_with_the_next_page(world: World) -> None:
    browser, lead = world.browser_of("lead"), world.people["lead"]
    assert lead is not None
    assert browser.get("/").status_code == 200

    lead.is_active = False
    lead.save()

    assert is_at_the_door(browser.get("/"))


def test_somebody_who_no_longer_shares_a_client_is_out_with_the_next_page(world: World) -> None:
    """ASVS 5.0 8.3.2"""
    browser, filled = world.browser_of("sharing coach"), world.clients["north"]
    address = reverse("client_story", args=[filled.client.public_id])
    assert browser.get(address).status_code == 200

    filled.client.shared_with.clear()

    assert browser.get(address).status_code == 404


def test_the_day_that_the_tests_stand_at_is_that_of_the_stored_facts(world: World) -> None:
    """Otherwise the pages would compute anew, and the words in stored facts would prove nothing."""
    assert world.clients["north"].client.state_of_facts.as_of == WEDNESDAY


@pytest.mark.parametrize("who", ["disabled lead", "support", "coach elsewhere"])
def test_the_rule_itself_gives_nothing_to_whoever_is_not_let_in_or_has_no_client(world: World, who: str) -> None:
    person = world.people[who]

    assert not Client.objects.visible_to(person).exists()
    assert not Client.objects.changeable_by(person).exists()
    assert not Note.objects.visible_to(person).exists()


def test_the_rule_itself_gives_nothing_to_nobody(world: World) -> None:
    assert not Client.objects.visible_to(AnonymousUser()).exists()
    assert not Client.objects.changeable_by(AnonymousUser()).exists()
