"""What lists read of many clients, and what they do in the hour after midnight."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from coaching.monitoring.models import ClientState, SessionFact, Status
from coaching.monitoring.reading import read_roster
from roster.people.models import Client
from tests.coaching.factories import (
    MONDAY,
    WEDNESDAY,
    ClientFactory,
    ClientStateFactory,
    FlagFactory,
    PlannedSessionFactory,
    SessionFactFactory,
)

LAST_MONDAY = MONDAY - timedelta(weeks=1)
MIDNIGHT = datetime(2026, 4, 16, tzinfo=UTC)


@pytest.fixture
def ilse(db: None) -> Client:
    """Her facts stand as at the Wednesday."""
    client = ClientFactory(name="Ilse", time_zone="UTC")
    ClientStateFactory(client=client, as_of=WEDNESDAY)
    return client


def a_session(client: Client, monday: date, status: Status = Status.DONE) -> SessionFact:
    return SessionFactFactory(
        planned_session=PlannedSessionFactory(block__client=client, block__starts_on=monday, suggested_on=monday),
        status=status,
    )


def test_in_the_first_hour_of_a_day_a_client_is_shown_as_the_day_before(ilse: Client) -> None:
    FlagFactory(client=ilse)

    facts = read_roster(Client.objects.all(), as_of=None, now=MIDNIGHT + timedelta(minutes=59))

    assert (facts.states[ilse.pk].as_of, facts.turning, facts.computed) == (WEDNESDAY, 1, {})
    assert len(facts.flags[ilse.pk]) == 1


def test_afterwards_what_the_new_day_brings_is_computed(ilse: Client) -> None:
    facts = read_roster(Client.objects.all(), as_of=None, now=MIDNIGHT + timedelta(hours=1))

    assert (facts.states[ilse.pk].as_of, facts.turning) == (WEDNESDAY + timedelta(days=1), 0)
    assert facts.computed == {ilse.pk: []}


def test_nobody_is_shown_as_two_days_before(ilse: Client) -> None:
    facts = read_roster(Client.objects.all(), as_of=None, now=MIDNIGHT + timedelta(days=1))

    assert (facts.states[ilse.pk].as_of, facts.turning) == (WEDNESDAY + timedelta(days=2), 0)


def test_the_hour_is_that_of_the_clients_own_midnight(ilse: Client) -> None:
    Client.objects.update(time_zone="America/New_York")
    five_past_midnight_there = MIDNIGHT + timedelta(hours=4, minutes=5)

    assert read_roster(Client.objects.all(), as_of=None, now=MIDNIGHT).turning == 0
    assert read_roster(Client.objects.all(), as_of=None, now=five_past_midnight_there).turning == 1


def test_a_past_day_is_never_the_day_before(ilse: Client) -> None:
    the_day_after = WEDNESDAY + timedelta(days=1)

    facts = read_roster(Client.objects.all(), as_of=the_day_after, now=MIDNIGHT + timedelta(days=9))

    assert (facts.states[ilse.pk].as_of, facts.turning) == (the_day_after, 0)


def test_marks_are_those_of_the_clients_and_weeks_asked_for(ilse: Client) -> None:
    bo = ClientFactory(studio=ilse.studio)
    ClientStateFactory(client=bo, as_of=WEDNESDAY)
    for client in (ilse, bo):
        for monday in (LAST_MONDAY, MONDAY):
            a_session(client, monday)
    facts = read_roster(Client.objects.all(), as_of=WEDNESDAY)

    marks = dict(facts.read_marks([ilse.pk], since=MONDAY, until=MONDAY))

    assert {pk: [mark.week_start for mark in of_client] for pk, of_client in marks.items()} == {ilse.pk: [MONDAY]}


def test_a_week_is_counted_by_what_became_of_its_sessions(ilse: Client) -> None:
    for status in (Status.MISSED, Status.MISSED, Status.DONE):
        a_session(ilse, LAST_MONDAY, status)
    facts = read_roster(Client.objects.all(), as_of=WEDNESDAY)

    assert facts.read_outcomes(Client.objects.all(), LAST_MONDAY) == {ilse.pk: {"missed": 2, "done": 1}}


def test_computed_and_stored_facts_give_the_same_marks_and_counts(ilse: Client) -> None:
    session = PlannedSessionFactory(block__client=ilse, block__starts_on=LAST_MONDAY, suggested_on=LAST_MONDAY)
    SessionFactFactory(planned_session=session, status=Status.MISSED, performed_on=None, counted_sets=0, planned_sets=0)
    everybody, weeks = Client.objects.all(), {"since": LAST_MONDAY, "until": MONDAY}
    stored = read_roster(everybody, as_of=WEDNESDAY)

    ClientState.objects.all().delete()
    computed = read_roster(everybody, as_of=WEDNESDAY)

    assert computed.computed.keys() == {ilse.pk}
    assert computed.read_outcomes(everybody, LAST_MONDAY) == stored.read_outcomes(everybody, LAST_MONDAY)
    (mark,), (same,) = (dict(facts.read_marks([ilse.pk], **weeks))[ilse.pk] for facts in (stored, computed))
    assert mark._replace(set_completion=None) == same._replace(set_completion=None)


def test_a_list_that_only_names_findings_leaves_their_evidence_where_it_is(ilse: Client) -> None:
    FlagFactory(client=ilse)

    with CaptureQueriesContext(connection) as queries:
        read_roster(Client.objects.all(), as_of=WEDNESDAY, with_evidence=False)

    assert [query["sql"] for query in queries if "evidence" in query["sql"]] == []
