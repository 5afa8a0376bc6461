"""Who may look at a Client story, what looking leaves behind, and what it costs."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from datetime import timedelta

import pytest
from django.db import connection
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext

from roster.people.models import Client, Coach, ViewRecord
from tests.coaching.desk.stories import ReadStory, a_session
from tests.coaching.factories import MONDAY, CoachFactory, FlagFactory

BrowserOf = Callable[[Coach], Browser]
pytestmark = pytest.mark.usefixtures("wednesday")


@pytest.mark.parametrize("who", ["outsider", "colleague"])
def test_who_may_not_see_a_client_is_told_that_there_is_none(
    who: str, client_of_coach: Client, outsider: Coach, browser_of: BrowserOf
) -> None:
    stranger = outsider if who == "outsider" else CoachFactory(studio=client_of_coach.studio)

    answer = browser_of(stranger).get(f"/clients/{client_of_coach.public_id}/")

    assert answer.status_code == 404
    assert not ViewRecord.objects.exists()


def test_a_visitor_is_led_to_the_door(client_of_coach: Client) -> None:
    answer = Browser().get(f"/clients/{client_of_coach.public_id}/")

    assert answer.headers["Location"].startswith("/sign-in/?next=")


@pytest.mark.parametrize("who", ["owner", "assistant"])
def test_a_view_by_anybody_but_the_lead_coach_is_recorded(
    who: str, client_of_coach: Client, owner: Coach, assistant: Coach, read_story: ReadStory
) -> None:
    viewer = owner if who == "owner" else assistant

    read_story(by=viewer)

    view = ViewRecord.objects.get()
    assert (view.client, view.coach, view.page) == (client_of_coach, viewer, "client story")


def test_the_lead_coach_looks_without_writing(
    client_of_coach: Client,
    coach: Coach,
    browser_of: BrowserOf,
    assert_no_writes: Callable[[], AbstractContextManager[None]],
) -> None:
    browser, address = browser_of(coach), f"/clients/{client_of_coach.public_id}/"

    with assert_no_writes():
        answers = [browser.get(address + query) for query in ("", "?as_of=2026-04-01", "?reach=all&log=2")]

    assert [answer.status_code for answer in answers] == [200] * 3
    assert not ViewRecord.objects.exists()


def test_an_assistant_reads_and_is_offered_nothing_to_change(
    client_of_coach: Client, assistant: Coach, read_story: ReadStory
) -> None:
    FlagFactory(client=client_of_coach)

    story = read_story(by=assistant)

    assert story.select_one(".sentence").text == "Goblet squat short twice at 18 kg."
    assert not story.select("main form[method=post]")


@pytest.mark.parametrize("query", ["", "?reach=all"])
def test_two_years_cost_the_queries_of_twelve_weeks(
    query: str, client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    browser, address = browser_of(coach), f"/clients/{client_of_coach.public_id}/{query}"
    for back in range(12):
        a_session(client_of_coach, MONDAY - timedelta(weeks=back))
    with CaptureQueriesContext(connection) as few:
        browser.get(address)

    for back in range(12, 104):
        a_session(client_of_coach, MONDAY - timedelta(weeks=back))
    with CaptureQueriesContext(connection) as many:
        browser.get(address)

    assert len(many) == len(few) <= 30
