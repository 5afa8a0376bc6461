"""Small studios in the database, from rows of the three files, and what is stored about them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime, time, timedelta
from itertools import chain
from typing import Any

from django.utils import timezone

from coaching.loads.loading import LOADERS
from coaching.monitoring.models import Flag, FlagEvent
from coaching.monitoring.refresh import reassess
from roster.people.models import Client, Coach
from roster.tables.table import Row, Table
from tests.plain_twin.small_files import asked, client, done, told

__all__ = ["asked", "client", "done", "told"]

MONDAYS = [(date(2026, 1, 5) + timedelta(weeks=week)).isoformat() for week in range(20)]
# No log is of a day still to come, whenever the tests run.
AFTER_IT_ALL = datetime(2027, 6, 1, tzinfo=UTC)
MET, SHORT = "8@20 8@20 8@20", "8@20 8@20 7@20"
FileRow = dict[str, str]


def load_rows(kind: str, rows: list[FileRow], coach: Coach) -> None:
    """Rows of a file, recorded; nothing is computed."""
    columns = {name: position for position, name in enumerate(rows[0])}
    table = Table(columns, [Row(number, tuple(row.values())) for number, row in enumerate(rows, start=2)])
    report = LOADERS[kind].load(table, studio=coach.studio, by=coach, now=AFTER_IT_ALL)
    assert not report.faults, [str(fault) for fault in report.faults]


def load_ana(coach: Coach, plan: list[FileRow], *logs: list[FileRow], **cells: str) -> Client:
    """One client of the coach, "ana", with a plan and logs."""
    load_rows("clients", [client(**cells)], coach)
    if plan:
        load_rows("blocks", plan, coach)
    load_logs(coach, *logs)
    return Client.objects.get(studio=coach.studio, key="ana")


def load_logs(coach: Coach, *logs: list[FileRow]) -> None:
    rows = list(chain(*logs))
    if rows:
        load_rows("logs", rows, coach)


def weekly_plan(*loads: str, **cells: str) -> list[FileRow]:
    """Squat 3 x 8 on Mondays from 5 January 2026 on, a load a week; each week has a rest of its own."""
    return [
        asked(**{"week": str(week), "load": load, "rest_s": str(125 - 5 * week), **cells})
        for week, load in enumerate(loads, start=1)
    ]


def weekly_logs(*sets: str, **cells: str) -> list[list[FileRow]]:
    """The logs of the plan's Mondays; an empty text is a week without one."""
    return [
        done(MONDAYS[number], text, names=f"{number + 1} A", **cells) for number, text in enumerate(sets) if text
    ]


def day(text: str) -> date:
    return date.fromisoformat(text)


def noon(text: str) -> datetime:
    return datetime.combine(day(text), time(12), tzinfo=UTC)


def stand_at(coach: Coach, *days: str) -> None:
    """Store facts and findings of everybody in the studio, as at one day after the other."""
    for one in days:
        reassess(Client.objects.filter(studio=coach.studio), now=timezone.now(), as_of=day(one))


def flag(kind: str) -> Flag:
    """The one finding of a kind that holds."""
    return Flag.objects.get(kind=kind, holds=True)


def holding() -> dict[str, str]:
    """The urgency of each kind that holds."""
    return dict(Flag.objects.filter(holds=True).values_list("kind", "urgency"))


def history(kind: str) -> list[tuple[str, str]]:
    """What happened to findings of a kind, and the day it counts from, in the order in which it was told."""
    events = FlagEvent.objects.filter(kind=kind).order_by("pk")
    return [(event.what, event.on.isoformat()) for event in events]


def rows_of(model: Any, clients: Iterable[int] | None = None) -> list[tuple[Any, ...]]:
    """Everything that is stored of a kind of fact or finding, but running numbers and the moments of computing."""
    left_out = ("id", "computed_at", "at")
    fields = [field.attname for field in model._meta.concrete_fields if field.attname not in left_out]
    found = model.objects.all() if clients is None else model.objects.filter(client_id__in=clients)
    return sorted(found.values_list(*fields), key=repr)
