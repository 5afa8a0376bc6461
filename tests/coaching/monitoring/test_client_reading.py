"""What a story reads of one client: the weeks it shows, and nothing of the years before."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from coaching.monitoring.client_reading import read_client
from coaching.monitoring.models import ClientState
from roster.people.models import Client
from tests.coaching.desk.stories import a_session
from tests.coaching.factories import MONDAY, WEDNESDAY, ClientFactory, ClientStateFactory, WeekFactFactory

TWO_YEARS = [MONDAY - timedelta(weeks=back) for back in (0, 1, 30, 103)]
SINCE = MONDAY - timedelta(weeks=11)


@pytest.fixture
def ilse(db: None) -> Client:
    client = ClientFactory(name="Ilse")
    ClientStateFactory(client=client, as_of=WEDNESDAY, last_log_on=MONDAY)
    for monday in TWO_YEARS:
        a_session(client, monday)
    return client


def read(client: Client, since: date = SINCE) -> dict[str, int]:
    facts = read_client(client, as_of=WEDNESDAY, since=since)
    return {name: len(getattr(facts, name)) for name in ("sessions", "exposures", "logs", "all_logs")}


def test_what_is_older_than_asked_for_stays_where_it_is(ilse: Client) -> None:
    assert read(ilse) == {"sessions": 2, "exposures": 2, "logs": 2, "all_logs": 4}
    assert read(ilse, since=date.min) == {"sessions": 4, "exposures": 4, "logs": 4, "all_logs": 4}


def test_when_a_client_began_is_known_without_reading_on_from_there(ilse: Client) -> None:
    assert read_client(ilse, as_of=WEDNESDAY, since=SINCE).began_on == TWO_YEARS[-1]


def test_computed_facts_hold_the_same_weeks_as_stored_ones(ilse: Client) -> None:
    stored = read_client(ilse, as_of=WEDNESDAY, since=SINCE)

    ClientState.objects.all().delete()
    computed = read_client(ilse, as_of=WEDNESDAY, since=SINCE)

    for facts in (stored, computed):
        assert [session.week_start for session in facts.sessions] == [MONDAY - timedelta(weeks=1), MONDAY]
        assert [log.performed_on for log in facts.logs] == [MONDAY, MONDAY - timedelta(weeks=1)]
        assert facts.began_on == TWO_YEARS[-1]
        assert len(facts.all_logs) == 4


def test_the_due_weeks_behind_a_trend_are_there_however_long_ago(ilse: Client) -> None:
    long_ago = [MONDAY - timedelta(weeks=back) for back in range(40, 60)]
    for monday in long_ago:
        WeekFactFactory(client=ilse, week_start=monday, due=3)

    weeks = read_client(ilse, as_of=WEDNESDAY, since=SINCE).weeks

    assert [week.week_start for week in weeks] == sorted(long_ago[:12])


def test_of_somebody_who_never_sent_anything_the_whole_plan_is_there(ilse: Client) -> None:
    ClientState.objects.update(last_log_on=None)

    assert read(ilse)["sessions"] == len(TWO_YEARS)
