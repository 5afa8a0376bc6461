"""Ageing at midnight, each client's own; safe to run twice."""

from __future__ import annotations

from datetime import date

import pytest
import time_machine
from django.core.management import call_command
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from coaching.monitoring.models import ClientState, Flag, FlagEvent
from coaching.monitoring.refresh import run_due, stale_clients
from roster.people.models import Client, Coach
from tests.coaching.factories import ClientFactory
from tests.coaching.monitoring.files import MET, holding, load_ana, rows_of, weekly_logs, weekly_plan

pytestmark = pytest.mark.django_db
ZONES = {"auckland": "Pacific/Auckland", "kathmandu": "Asia/Kathmandu", "lisbon": "Europe/Lisbon",
         "denver": "America/Denver"}


@pytest.fixture
def everywhere(coach: Coach) -> dict[str, Client]:
    return {key: ClientFactory(lead=coach, key=key, time_zone=zone) for key, zone in ZONES.items()}


def days() -> dict[str, date]:
    return dict(ClientState.objects.values_list("client__key", "as_of"))


def test_each_client_ages_at_their_own_midnight(everywhere: dict[str, Client]):
    """On Wednesday 15 April 2026: UTC+12, UTC+5:45, UTC+1 in summer, UTC-6 in summer."""
    aged: dict[str, str] = {}
    with time_machine.travel("2026-04-14T10:00Z", tick=False) as clock:
        run_due(timezone.now())
        for hour in ("2026-04-14T11:59Z", "2026-04-14T12:00Z", "2026-04-14T18:14Z", "2026-04-14T18:15Z",
                     "2026-04-14T22:59Z", "2026-04-14T23:00Z", "2026-04-15T05:59Z", "2026-04-15T06:00Z"):
            clock.move_to(hour)
            run_due(timezone.now())
            aged |= {key: hour for key, day in days().items() if day == date(2026, 4, 15) and key not in aged}

    assert aged == {
        "auckland": "2026-04-14T12:00Z", "kathmandu": "2026-04-14T18:15Z", "lisbon": "2026-04-14T23:00Z",
        "denver": "2026-04-15T06:00Z",
    }


def test_running_it_twice_does_nothing_the_second_time(everywhere: dict[str, Client]):
    with time_machine.travel("2026-04-15T06:00Z", tick=False):
        assert run_due(timezone.now()) == len(ZONES)

        with CaptureQueriesContext(connection) as queries:
            assert run_due(timezone.now()) == 0

    assert len(queries) == 2


def test_a_finding_that_time_alone_brings_is_there_after_midnight(coach: Coach):
    load_ana(coach, weekly_plan(*["20"] * 10), *weekly_logs(MET), time_zone="America/Denver")
    with time_machine.travel("2026-01-19T06:59Z", tick=False):
        run_due(timezone.now())
        assert "turnout" not in holding()

    with time_machine.travel("2026-01-19T07:00Z", tick=False):
        run_due(timezone.now())
        run_due(timezone.now())

    assert holding()["turnout"] == "act"
    assert FlagEvent.objects.filter(kind="turnout").count() == 1


def test_who_has_ended_is_not_aged(coach: Coach, everywhere: dict[str, Client]):
    Client.objects.filter(key="lisbon").update(state=Client.State.ENDED, ended_on=date(2026, 4, 1))

    assert {client.key for client in stale_clients(timezone.now())} == set(ZONES) - {"lisbon"}


def test_clients_of_every_studio_are_aged(coach: Coach, outsider: Coach):
    ClientFactory(lead=coach, key="here")
    ClientFactory(lead=outsider, key="there")

    run_due(timezone.now())

    assert set(days()) == {"here", "there"}


def test_after_going_back_everybody_comes_to_their_today_again(coach: Coach):
    load_ana(coach, weekly_plan("20", "20"), *weekly_logs(MET))
    with time_machine.travel("2026-01-14T12:00Z", tick=False):
        run_due(timezone.now())
        before = rows_of(Flag)
        call_command("reassess", "--as-of", "2026-01-05")
        assert days() == {"ana": date(2026, 1, 5)}

        call_command("run_due")

    assert days() == {"ana": date(2026, 1, 14)}
    assert rows_of(Flag) == before
