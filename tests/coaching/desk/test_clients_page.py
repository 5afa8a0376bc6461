from __future__ import annotations

from datetime import timedelta

import pytest
from bs4 import BeautifulSoup

from coaching.monitoring.models import ClientState, Kind, Urgency
from roster.people.models import Client, Coach
from tests.coaching.desk.pages import BrowserOf, read_page, words
from tests.coaching.factories import WEDNESDAY, ClientFactory, ClientStateFactory, FlagFactory

pytestmark = pytest.mark.usefixtures("wednesday")


def names(soup: BeautifulSoup) -> list[str]:
    return [link.text for link in soup.select("tbody th a")]


def test_a_line_tells_state_sending_last_heard_turnout_and_findings(
    coach: Coach, client_of_coach: Client, browser_of: BrowserOf
) -> None:
    heard_on = WEDNESDAY - timedelta(days=2)
    ClientState.objects.update(last_log_on=heard_on, attended_4_weeks=11, due_4_weeks=12)
    FlagFactory(client=client_of_coach, kind=Kind.TURNOUT, urgency=Urgency.ACT)
    FlagFactory(client=client_of_coach, kind=Kind.READY, urgency=Urgency.GOOD)

    line = read_page(browser_of(coach), "/clients/").select_one("tbody tr")

    assert words(line) == f"Ilse Brandt {client_of_coach.key} active each session 2 days ago 11/12 act and 1 more"
    assert line.a["href"] == f"/clients/{client_of_coach.public_id}/"


def test_what_is_unknown_is_a_dash(coach: Coach, client_of_coach: Client, browser_of: BrowserOf) -> None:
    line = read_page(browser_of(coach), "/clients/").select_one("tbody tr")

    assert words(line) == f"Ilse Brandt {client_of_coach.key} active each session – –"


def test_what_was_put_aside_is_not_counted(coach: Coach, client_of_coach: Client, browser_of: BrowserOf) -> None:
    FlagFactory(client=client_of_coach, put_aside_until=WEDNESDAY + timedelta(days=1))

    assert read_page(browser_of(coach), "/clients/").select("tbody .urgency") == []


@pytest.mark.parametrize("typed", ["ilse", "BRANDT il", "ilse@example", "c0"])
def test_a_search_looks_through_names_keys_and_addresses(
    coach: Coach, client_of_coach: Client, browser_of: BrowserOf, typed: str
) -> None:
    client_of_coach.key = "c0-77"
    client_of_coach.save()
    ClientFactory(lead=coach, name="Bo Lindqvist", key="other", key_folded="other")

    assert names(read_page(browser_of(coach), f"/clients/?q={typed}")) == ["Ilse Brandt"]


@pytest.mark.parametrize("typed", ["%00", "ilse%00", "ilse%20%00"])
def test_a_search_for_what_no_text_can_hold_finds_nobody(
    coach: Coach, client_of_coach: Client, browser_of: BrowserOf, typed: str
) -> None:
    assert names(read_page(browser_of(coach), f"/clients/?q={typed}")) == []


def test_a_search_finds_those_who_pause_or_have_ended_too(coach: Coach, browser_of: BrowserOf) -> None:
    ClientFactory(lead=coach, name="Bo Lindqvist", state="ended", ended_on=WEDNESDAY)

    assert names(read_page(browser_of(coach), "/clients/?q=bo")) == ["Bo Lindqvist"]


def test_a_search_without_a_hit_says_where_it_looked(
    coach: Coach, client_of_coach: Client, browser_of: BrowserOf
) -> None:
    text = words(read_page(browser_of(coach), "/clients/?q=%3Cb%3Ezz"))

    assert "Nobody found for “<b>zz”." in text
    assert "names, keys and e-mail addresses" in text


def test_the_list_begins_with_the_active_ones_and_counts_the_others(coach: Coach, browser_of: BrowserOf) -> None:
    ClientFactory(lead=coach, name="Zoe")
    ClientFactory(lead=coach, name="Ann")
    ClientFactory(lead=coach, name="Bo", state="paused")
    browser = browser_of(coach)

    assert names(read_page(browser, "/clients/")) == ["Ann", "Zoe"]
    assert names(read_page(browser, "/clients/?state=paused")) == ["Bo"]
    assert names(read_page(browser, "/clients/?state=all")) == ["Ann", "Bo", "Zoe"]
    assert words(read_page(browser, "/clients/").select_one(".page-head nav")) == "active 2 paused 1 ended 0 all 3"


def test_an_empty_state_says_so(coach: Coach, client_of_coach: Client, browser_of: BrowserOf) -> None:
    assert "Nobody here is paused." in words(read_page(browser_of(coach), "/clients/?state=paused"))


def test_an_empty_studio_is_told_how_to_load_its_files(coach: Coach, browser_of: BrowserOf) -> None:
    assert "No clients yet." in words(read_page(browser_of(coach), "/clients/"))


@pytest.mark.parametrize("number", ["2", "99", "second", "-1"])
def test_more_than_a_hundred_clients_come_on_several_pages(coach: Coach, browser_of: BrowserOf, number: str) -> None:
    for client in ClientFactory.create_batch(101, lead=coach):
        ClientStateFactory(client=client)

    shown = names(read_page(browser_of(coach), f"/clients/?page={number}&state=all"))

    assert len(shown) == (100 if number == "second" else 1)


def test_the_next_page_keeps_the_search(coach: Coach, browser_of: BrowserOf) -> None:
    for client in ClientFactory.create_batch(101, lead=coach):
        ClientStateFactory(client=client)

    link = read_page(browser_of(coach), "/clients/?q=client").select_one("a[rel=next]")

    assert link["href"] == "?q=client&page=2"
