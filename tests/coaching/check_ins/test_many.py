"""Many packs at once are the packs one by one, from as many queries whoever and however many they are."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from coaching.check_ins.composing import compose, compose_many
from coaching.check_ins.periods import month_period
from roster.people.models import CheckIn, CheckInAnswer
from tests.coaching.check_ins.rosters import AFTER_IT_ALL, OCTOBER, PERIODS, clients_of
from tests.coaching.factories import ClientFactory
from tests.coaching.monitoring.conftest import load_roster as load_roster

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("period", PERIODS, ids=lambda period: period.title)
def test_together_they_are_what_each_is_alone(coach, load_roster, period):
    load_roster(601, clients=8, weeks=12)
    clients = clients_of(coach)

    together = list(compose_many(clients, period, now=AFTER_IT_ALL))

    assert together == [compose(client, period, now=AFTER_IT_ALL) for client in clients]


def test_they_come_in_the_order_in_which_they_were_asked_for(coach, load_roster):
    load_roster(602, clients=4, weeks=8)
    backwards = clients_of(coach)[::-1]

    packs = compose_many(backwards, OCTOBER, now=AFTER_IT_ALL)

    assert [pack.client_id for pack in packs] == [client.public_id for client in backwards]


def test_clients_of_another_studio_stand_beside_theirs(coach, load_roster):
    load_roster(603, clients=2, weeks=8)
    other = ClientFactory()

    packs = list(compose_many([*clients_of(coach), other], OCTOBER, now=AFTER_IT_ALL))

    assert packs[-1].studio_name == other.studio.name
    assert packs[-1].nothing == "Nothing was planned or logged in this period."


def test_each_has_their_own_day_and_their_own_answers(coach):
    west, east = (ClientFactory(lead=coach, time_zone=zone) for zone in ("America/Denver", "Pacific/Auckland"))
    CheckInAnswer.objects.create(check_in=CheckIn.objects.create(client=east), question="well", text="All of it.")

    told = list(compose_many([west, east], month_period(2026, 4), now=datetime(2026, 4, 15, tzinfo=UTC)))

    assert [pack.as_of.day for pack in told] == [14, 15]
    assert [pack.answers[0].text for pack in told] == ["", "All of it."]


def test_no_client_no_pack():
    assert list(compose_many([], OCTOBER, now=AFTER_IT_ALL)) == []


def queries_for(clients) -> int:
    with CaptureQueriesContext(connection) as captured:
        list(compose_many(clients, OCTOBER, now=AFTER_IT_ALL))
    return len(captured)


def test_the_number_of_queries_does_not_hang_on_how_many_clients_there_are(coach, load_roster):
    load_roster(604, clients=16, weeks=12)
    clients = clients_of(coach)
    queries_for(clients)

    assert queries_for(clients[:8]) == queries_for(clients) <= 36
