"""Every page tried by everybody: the client's coach, the owner, an assistant, another studio, a colleague, nobody."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager

import pytest
from django.test import Client as Browser
from django.urls import reverse

from coaching.monitoring.models import Flag, FlagEvent, Kind
from roster.people.models import Client, Coach, Contact, Note
from tests.coaching.factories import CoachFactory, FlagFactory

BrowserOf = Callable[[Coach], Browser]
PAGES = ["/", "/clients/", "/?whose=all", "/clients/?q=ilse&state=all"]
pytestmark = pytest.mark.usefixtures("wednesday")


@pytest.fixture
def flag(client_of_coach: Client) -> Flag:
    return FlagFactory(client=client_of_coach, kind=Kind.STALL, subject="Row")


def changes(flag: Flag) -> list[tuple[str, dict[str, str]]]:
    public_id, finding = flag.client.public_id, {"subject": flag.subject, "text": "a word", "until": "2026-04-20"}
    acts = [(reverse(name, args=[public_id, flag.kind]), finding) for name in ACTS]
    return [
        *acts,
        (reverse("contact_add", args=[public_id]), {"how": "call"}),
        (reverse("note_add", args=[public_id]), {"text": "a word"}),
    ]


ACTS = ("flag_seen", "flag_put_aside", "flag_close")


@pytest.mark.parametrize("address", PAGES)
def test_a_visitor_who_is_not_signed_in_is_led_to_the_door(db: None, address: str) -> None:
    answer = Browser().get(address, follow=True)

    assert answer.status_code == 200
    assert answer.redirect_chain[0][0].startswith("/sign-in/?next=")


def test_a_visitor_who_is_not_signed_in_changes_nothing(flag: Flag) -> None:
    for address, form in changes(flag):
        assert Browser().post(address, form).headers["Location"].startswith("/sign-in/")

    assert not FlagEvent.objects.exists()


@pytest.mark.parametrize("who", ["outsider", "colleague"])
def test_somebody_elses_client_is_nowhere_to_be_seen(
    who: str, flag: Flag, outsider: Coach, browser_of: BrowserOf
) -> None:
    stranger = outsider if who == "outsider" else CoachFactory(studio=flag.client.studio)

    pages = [browser_of(stranger).get(address).content.decode() for address in PAGES]

    assert not any("Ilse" in page.replace("q=ilse", "") for page in pages)


@pytest.mark.parametrize("who", ["outsider", "colleague", "assistant"])
def test_whoever_may_not_change_a_client_is_told_that_there_is_none(
    who: str, flag: Flag, outsider: Coach, assistant: Coach, browser_of: BrowserOf
) -> None:
    people = {"outsider": outsider, "assistant": assistant, "colleague": CoachFactory(studio=flag.client.studio)}
    browser = browser_of(people[who])

    answers = [browser.post(address, form).status_code for address, form in changes(flag)]

    assert answers == [404] * 5
    assert [model.objects.count() for model in (FlagEvent, Contact, Note)] == [0, 0, 0]


@pytest.mark.parametrize("who", ["coach", "owner"])
def test_the_clients_coach_and_the_owner_see_and_change(
    who: str, flag: Flag, coach: Coach, owner: Coach, browser_of: BrowserOf
) -> None:
    browser = browser_of(coach if who == "coach" else owner)

    assert "Ilse Brandt" in browser.get("/?whose=all").content.decode()
    assert "Ilse Brandt" in browser.get("/clients/").content.decode()
    assert [browser.post(address, form).status_code for address, form in changes(flag)][:1] == [302]


def test_an_assistant_reads_the_clients_assigned_and_is_offered_no_act(
    flag: Flag, assistant: Coach, browser_of: BrowserOf
) -> None:
    page = browser_of(assistant).get("/").content.decode()

    assert "Ilse Brandt" in page
    assert "decide" not in page


@pytest.mark.parametrize("name", ACTS)
def test_acts_are_not_reached_by_following_a_link(name: str, flag: Flag, coach: Coach, browser_of: BrowserOf) -> None:
    answer = browser_of(coach).get(reverse(name, args=[flag.client.public_id, flag.kind]))

    assert answer.status_code == 405


def test_looking_writes_nothing(
    flag: Flag, coach: Coach, browser_of: BrowserOf, assert_no_writes: Callable[[], AbstractContextManager[None]]
) -> None:
    browser = browser_of(coach)

    with assert_no_writes():
        answers = [browser.get(address) for address in [*PAGES, "/?as_of=2026-04-01"]]

    assert [answer.status_code for answer in answers] == [200] * 5
