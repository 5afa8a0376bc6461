"""The lists cost the same number of queries however many clients there are."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.db import connection
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext

from coaching.monitoring.models import ClientState, Flag, Kind, Urgency
from roster.labels import fold
from roster.people.models import Client, Coach
from tests.coaching.factories import MONDAY, WEDNESDAY

BrowserOf = Callable[[Coach], Browser]
pytestmark = pytest.mark.usefixtures("wednesday")


def invent_roster(coach: Coach, size: int) -> None:
    """Every second client has two exercises short, every third missed a week."""
    clients = Client.objects.bulk_create(
        Client(
            studio=coach.studio, lead=coach, key=f"k{n}", key_folded=fold(f"k{n}"), name=f"Client {n}", joined_on=MONDAY
        )
        for n in range(size)
    )
    ClientState.objects.bulk_create(ClientState(client=client, as_of=WEDNESDAY, due_4_weeks=12) for client in clients)
    short = [(client, Kind.STALL, subject) for client in clients[::2] for subject in ("Row", "Squat")]
    gone = [(client, Kind.TURNOUT, "week_gone") for client in clients[::3]]
    Flag.objects.bulk_create(
        Flag(client=client, kind=kind, subject=subject, urgency=Urgency.ACT, opened_on=MONDAY, sentence="S.")
        for client, kind, subject in [*short, *gone]
    )


@pytest.mark.parametrize("address", ["/", "/clients/", "/turnout/", "/check-ins/"])
def test_thirty_clients_and_three_hundred_cost_the_same_queries(
    coach: Coach, browser_of: BrowserOf, address: str
) -> None:
    browser = browser_of(coach)
    browser.get(address)
    invent_roster(coach, 30)
    with CaptureQueriesContext(connection) as few:
        browser.get(address)

    Client.objects.all().delete()
    invent_roster(coach, 300)
    with CaptureQueriesContext(connection) as many:
        browser.get(address)

    assert len(many) == len(few) <= 14
