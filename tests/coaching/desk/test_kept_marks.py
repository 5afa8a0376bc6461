from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

import pytest
from django.test import Client as Browser

from coaching.desk.kept_marks import KeptMarks
from coaching.monitoring.models import ClientState, Kind, SessionFact, Status
from coaching.monitoring.reading import read_roster
from roster.people.models import Client, Coach
from tests.coaching.factories import MONDAY, FlagFactory, PlannedSessionFactory, SessionFactFactory

BrowserOf = Callable[[Coach], Browser]
pytestmark = pytest.mark.usefixtures("wednesday")
LAST_MONDAY = MONDAY - timedelta(weeks=1)


@pytest.fixture
def missed(client_of_coach: Client) -> SessionFact:
    session = PlannedSessionFactory(block__client=client_of_coach, block__starts_on=LAST_MONDAY)
    return SessionFactFactory(planned_session=session, status=Status.MISSED, performed_on=None)


def page(browser: Browser) -> str:
    return browser.get("/").content.decode()


def test_a_second_look_shows_the_same_as_the_first(missed: SessionFact, coach: Coach, browser_of: BrowserOf) -> None:
    FlagFactory(client=missed.client, kind=Kind.STALL)
    browser = browser_of(coach)

    first, second = page(browser), page(browser)

    assert 'aria-label="1 missed"' in first
    assert 'aria-label="1 missed"' in second
    assert "Missed last week: 1 person." in second


def test_facts_that_are_computed_anew_are_read_anew(missed: SessionFact, coach: Coach, browser_of: BrowserOf) -> None:
    browser = browser_of(coach)
    before = page(browser)

    SessionFact.objects.update(status=Status.DONE)
    ClientState.objects.update(computed_at=missed.client.state_of_facts.computed_at + timedelta(seconds=1))

    assert "Missed last week" in before
    assert "Missed last week" not in page(browser)


def test_marks_at_hand_are_not_read_again(missed: SessionFact) -> None:
    clients, kept = Client.objects.all(), KeptMarks(MONDAY)
    kept.complete(read_roster(clients, as_of=None, since=LAST_MONDAY))

    look = KeptMarks(MONDAY)
    facts = read_roster(clients, as_of=None, since=LAST_MONDAY, is_at_hand=look.find)

    assert facts.marks == {}
    assert look.complete(facts)[missed.client_id].missed == 1


def test_another_week_is_written_anew(missed: SessionFact) -> None:
    kept = KeptMarks(MONDAY)
    kept.complete(read_roster(Client.objects.all(), as_of=None))

    assert not KeptMarks(MONDAY + timedelta(weeks=1)).find(missed.client.state_of_facts)


def test_a_client_without_a_finding_gives_only_the_marks_of_the_quiet_week(missed: SessionFact) -> None:
    session = PlannedSessionFactory(block=missed.planned_session.block, week=2)
    SessionFactFactory(planned_session=session)
    clients = Client.objects.all()

    quiet = read_roster(clients, as_of=None, quiet_week=LAST_MONDAY)
    FlagFactory(client=missed.client)
    loud = read_roster(clients, as_of=None, quiet_week=LAST_MONDAY)

    assert [mark.week_start for mark in quiet.marks[missed.client_id]] == [LAST_MONDAY]
    assert [mark.week_start for mark in loud.marks[missed.client_id]] == [LAST_MONDAY, MONDAY]
