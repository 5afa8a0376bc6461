"""Compiled reads and writes: what Django would read and write, on either database, for one client, a few and many."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from coaching.databases.compiled import MOST_IDS_KEPT, CompiledRead
from coaching.databases.compiled_writes import CompiledWrite
from coaching.monitoring import context, flag_life, flag_rows, record_reads
from coaching.monitoring.models import WeekFact
from coaching.monitoring.refresh import reassess
from roster.blocks.models import Exercise
from roster.people.models import Client, Coach
from tests.coaching.factories import ClientFactory
from tests.coaching.monitoring.conftest import THURSDAY
from tests.coaching.monitoring.files import load_rows
from tests.rosters.generate import random_roster

pytestmark = pytest.mark.django_db

READS: dict[str, CompiledRead] = {
    f"{module.__name__.split('.')[-1]}.{name}": read
    for module in (record_reads, context, flag_life, flag_rows)
    for name, read in vars(module).items() if isinstance(read, CompiledRead)
}
OF_EXERCISES = {"record_reads.EXERCISES", "context._EXERCISE_NAMES"}
NAMES = CompiledRead(lambda ids: Client.objects.filter(pk__in=ids).order_by("name"), ["pk", "name", "state"])


@pytest.fixture
def assessed(coach: Coach) -> Coach:
    roster = random_roster(41, clients=4, weeks=12)
    for kind in ("clients", "blocks", "logs"):
        load_rows(kind, getattr(roster, kind), coach)
    reassess(Client.objects.all(), now=timezone.now(), as_of=THURSDAY)
    return coach


def written_out(rows: Iterable[tuple[Any, ...]]) -> list[str]:
    """With every number as a float, and with what tells True from 1 and a day from its text."""
    return sorted(
        repr([float(value) if type(value) in (int, float, Decimal) else value for value in row]) for row in rows
    )


@pytest.mark.parametrize("name", READS)
@pytest.mark.parametrize("count", [1, 3])
def test_what_is_read_is_what_django_reads(assessed: Coach, name: str, count: int):
    model = Exercise if name in OF_EXERCISES else Client
    ids = list(model.objects.order_by("pk").values_list("pk", flat=True))[:count]

    told = READS[name].rows(ids)

    assert written_out(told) == written_out(READS[name].queryset(ids))


def test_ids_asked_one_after_the_other_get_each_its_own_rows(coach: Coach):
    ana, bea = ClientFactory(studio=coach.studio, name="Ana"), ClientFactory(studio=coach.studio, name="Bea")

    told = [NAMES.rows([pk]) for pk in (bea.pk, ana.pk)] + [NAMES.rows([bea.pk, ana.pk])]

    of_ana, of_bea = (ana.pk, "Ana", ana.state), (bea.pk, "Bea", bea.state)
    assert told == [[of_bea], [of_ana], [of_ana, of_bea]]


def test_of_more_ids_than_statements_are_kept_for_all_are_read(coach: Coach):
    clients = [ClientFactory(studio=coach.studio) for _ in range(MOST_IDS_KEPT + 1)]

    told = NAMES.columns([client.pk for client in clients])

    assert sorted(told[0]) == [client.pk for client in clients]


def test_nobody_has_no_rows_and_no_query():
    with CaptureQueriesContext(connection) as queries:
        told = NAMES.rows([]), NAMES.columns([])

    assert told == ([], [(), (), ()])
    assert not queries.captured_queries


def test_a_row_takes_the_place_of_the_one_with_its_key_and_leaves_the_others(assessed: Coach):
    fields = [field.attname for field in WeekFact._meta.concrete_fields if field.attname != "id"]
    rows = list(WeekFact.objects.order_by("pk").values_list(*fields))
    write = CompiledWrite(WeekFact, fields, ["client_id", "week_start"])
    of = dict(zip(fields, rows[0], strict=True))
    new = tuple((of | {"week_start": date(2020, 1, 6), "turnout": None, "tonnage_kg": 1234.5678901234567}).values())

    write.write([tuple((of | {"done": 7}).values()), new])

    stored = list(WeekFact.objects.order_by("pk").values_list(*fields))
    assert stored == [tuple((of | {"done": 7}).values()), *rows[1:], new]


def test_nothing_to_write_is_no_query():
    with CaptureQueriesContext(connection) as queries:
        CompiledWrite(WeekFact, ["client_id", "week_start", "due"], ["client_id", "week_start"]).write([])

    assert not queries.captured_queries
