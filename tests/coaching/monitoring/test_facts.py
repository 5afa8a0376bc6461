"""Stored facts: the same by whatever way they were computed, and the same as what is exported."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from coaching.monitoring.export import export_rows
from coaching.monitoring.fact_shapes import COLUMNS
from coaching.monitoring.models import (
    ClientState,
    ExposureFact,
    Flag,
    FlagEvent,
    LogFact,
    SessionFact,
    WeekFact,
)
from coaching.monitoring.refresh import reassess, refresh_clients
from roster.logs.models import SessionLog
from roster.people.models import Client, Coach
from tests.coaching.factories import ClientFactory
from tests.coaching.monitoring.conftest import LoadRoster
from tests.coaching.monitoring.files import MET, asked, load_ana, load_logs, rows_of, stand_at, weekly_logs, weekly_plan

pytestmark = pytest.mark.django_db
FACTS = [SessionFact, LogFact, WeekFact, ExposureFact, ClientState]
EVERYTHING = [*FACTS, Flag, FlagEvent]


def stored(*models: type, clients: list[int] | None = None) -> dict[str, list[tuple]]:
    return {model.__name__: rows_of(model, clients) for model in models or EVERYTHING}


def noon(day: date) -> datetime:
    return datetime.combine(day, time(12), tzinfo=UTC)


@pytest.mark.parametrize("seed", [31, 32])
def test_one_client_after_the_other_gives_the_facts_of_all_at_once(load_roster: LoadRoster, seed: int, thursday: date):
    load_roster(seed)
    Client.objects.update(time_zone="UTC")
    reassess(Client.objects.all(), now=timezone.now(), as_of=thursday)
    of_all = stored()
    for model in EVERYTHING:
        model.objects.all().delete()

    for client in Client.objects.order_by("-pk"):
        refresh_clients([client.pk], noon(thursday))

    assert stored() == of_all
    assert all(of_all.values()), "every kind of fact is there"


@pytest.mark.parametrize("seed", [33, 34])
def test_what_is_stored_is_what_is_exported(load_roster: LoadRoster, coach: Coach, seed: int, thursday: date):
    load_roster(seed)
    reassess(Client.objects.all(), now=timezone.now(), as_of=thursday)

    def exported(table: str) -> list[tuple]:
        rows = export_rows(table, coach.studio, as_of=thursday)
        return sorted((tuple(row[name] for name in COLUMNS[table]) for row in rows), key=repr)

    assert exported("sessions") == sorted(map(_session, SessionFact.objects.all()), key=repr)
    assert exported("weeks") == sorted(map(_week, WeekFact.objects.all()), key=repr)
    assert exported("exposures") == sorted(map(_exposure, ExposureFact.objects.all()), key=repr)
    assert exported("flags") == sorted(map(_flag, Flag.objects.holding()), key=repr)


def _session(fact: SessionFact) -> tuple:
    planned = fact.planned_session
    return (
        fact.client.key, planned.block.label, planned.week, planned.label, _iso(fact.week_start), planned.suggested_on,
        fact.status, fact.set_completion, fact.done_later, fact.performed_on,
    )


def _iso(monday: date) -> str:
    return f"{monday:%G-W%V}"


def _week(fact: WeekFact) -> tuple:
    return (fact.client.key, _iso(fact.week_start), *(getattr(fact, name) for name in COLUMNS["weeks"][2:]))


def _exposure(fact: ExposureFact) -> tuple:
    asked = fact.planned_exercise
    session = asked.session
    targets = "-".join(map(str, asked.set_targets)) if asked.set_targets else asked.reps
    return (
        fact.client.key, asked.exercise.name, session.block.label, session.week, session.label, asked.position,
        fact.performed_on, asked.sets, targets, None if asked.load_g is None else asked.load_g / 1000, fact.sets_met,
        fact.met, fact.reason, fact.best_e1rm_kg, fact.tonnage_g / 1000,
    )


def _flag(flag: Flag) -> tuple:
    return flag.client.key, flag.kind, flag.subject, flag.urgency, flag.opened_on, flag.sentence


def test_computing_again_writes_no_fact(load_roster: LoadRoster, thursday: date):
    load_roster(35)
    reassess(Client.objects.all(), now=timezone.now(), as_of=thursday)

    with CaptureQueriesContext(connection) as queries:
        reassess(Client.objects.all(), now=timezone.now(), as_of=thursday)

    writes = [query["sql"] for query in queries if query["sql"].startswith(("INSERT", "UPDATE", "DELETE"))]
    assert [sql.split('"')[1] for sql in writes] == ["monitoring_clientstate"]


def test_a_refresh_touches_no_other_client(load_roster: LoadRoster, thursday: date):
    load_roster(36)
    first, *others = Client.objects.order_by("pk").values_list("pk", flat=True)
    reassess(Client.objects.all(), now=timezone.now(), as_of=thursday)
    before = stored(clients=others)

    with CaptureQueriesContext(connection) as queries:
        refresh_clients([first], noon(thursday + timedelta(days=40)))

    assert stored(clients=others) == before
    assert ClientState.objects.get(client_id=first).as_of > thursday
    assert len(queries) < 40


def test_a_refresh_asks_as_many_queries_however_many_clients_and_logs_there_are(coach: Coach):
    ana = load_ana(coach, [asked(), asked(week="2")], *weekly_logs(MET))
    refresh_clients([ana.pk], noon(date(2026, 1, 14)))

    def queries() -> int:
        SessionFact.objects.update(set_completion=0.123)
        with CaptureQueriesContext(connection) as asked_queries:
            refresh_clients([ana.pk], noon(date(2026, 1, 14)))
        return len(asked_queries)

    few = queries()
    for _ in range(5):
        ClientFactory(lead=coach)
    load_logs(coach, *weekly_logs("", MET))
    refresh_clients([ana.pk], noon(date(2026, 1, 14)))

    assert queries() == few


def test_facts_of_what_is_no_longer_on_record_are_gone(coach: Coach):
    load_ana(coach, [asked(), asked(week="2")], *weekly_logs(MET, MET))
    stand_at(coach, "2026-01-14")
    SessionLog.objects.get(performed_on="2026-01-12").delete()

    stand_at(coach, "2026-01-14")

    assert LogFact.objects.count() == ExposureFact.objects.count() == 1
    assert list(SessionFact.objects.order_by("week_start").values_list("status", flat=True)) == ["done", "overdue"]


def test_going_back_leaves_out_what_had_not_been_logged(coach: Coach):
    load_ana(coach, [asked(), asked(week="2")], *weekly_logs(MET, MET))

    stand_at(coach, "2026-01-14", "2026-01-06")

    assert LogFact.objects.count() == ExposureFact.objects.count() == WeekFact.objects.count() == 1
    assert ClientState.objects.get().last_log_on == date(2026, 1, 5)


def test_the_state_counts_turnout_over_four_and_twelve_weeks(coach: Coach):
    load_ana(coach, weekly_plan(*["20"] * 10), *weekly_logs(*[MET] * 6, "", MET))

    stand_at(coach, "2026-03-01")

    state = ClientState.objects.get()
    assert (state.attended_4_weeks, state.due_4_weeks) == (3, 4)
    assert (state.attended_12_weeks, state.due_12_weeks) == (7, 8)


def test_a_client_without_plan_and_log_has_a_state_and_no_facts(coach: Coach):
    ClientFactory(lead=coach)

    stand_at(coach, "2026-01-14")

    assert ClientState.objects.get().last_log_on is None
    assert not any(model.objects.exists() for model in (SessionFact, LogFact, WeekFact, ExposureFact, Flag))


def test_a_block_that_is_not_published_is_no_plan(coach: Coach):
    ana = load_ana(coach, [asked()], *weekly_logs(MET))
    ana.blocks.update(published_at=None)

    stand_at(coach, "2026-01-14")

    assert not SessionFact.objects.exists()
    assert not Flag.objects.exists()


@pytest.mark.django_db(transaction=True)
def test_the_record_is_read_in_the_transaction_that_stores_what_follows_from_it(coach: Coach):
    ana = load_ana(coach, [asked()], *weekly_logs(MET))

    with CaptureQueriesContext(connection) as queries:
        refresh_clients([ana.pk], noon(date(2026, 1, 14)))

    told = [query["sql"] for query in queries]
    begins = [number for number, sql in enumerate(told) if sql.startswith("BEGIN")]
    reads = [number for number, sql in enumerate(told) if "logs_sessionlog" in sql and sql.startswith("SELECT")]
    assert len(begins) == 1
    assert begins[0] < min(reads)
    assert told[-1].startswith("COMMIT")
