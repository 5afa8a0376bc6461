"""Packs of invented rosters, in the database and as the plain twin reads them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime

from coaching.check_ins.composing import compose_many
from coaching.check_ins.content import Pack, Period
from coaching.check_ins.periods import days_period, month_period
from roster.people.models import Client, Coach
from tests.plain_twin.record import Client as TwinClient
from tests.plain_twin.record import Record

AFTER_IT_ALL = datetime(2027, 6, 1, 9, tzinfo=UTC)
OCTOBER = month_period(2026, 10)
FOUR_WEEKS = days_period(date(2026, 10, 5), date(2026, 11, 1))
ODD_DAYS = days_period(date(2026, 9, 30), date(2026, 11, 12))
PERIODS = [OCTOBER, FOUR_WEEKS, ODD_DAYS]


def clients_of(coach: Coach) -> list[Client]:
    return list(Client.objects.filter(studio=coach.studio).order_by("key"))


def packs(coach: Coach, period: Period = OCTOBER) -> list[Pack]:
    return list(compose_many(clients_of(coach), period, now=AFTER_IT_ALL))


def with_twins(coach: Coach, record: Record, period: Period = OCTOBER) -> Iterator[tuple[Client, Pack, TwinClient]]:
    twins = {client.key: client for client in record.clients}
    for client, pack in zip(clients_of(coach), packs(coach, period), strict=True):
        yield client, pack, twins[client.key]
