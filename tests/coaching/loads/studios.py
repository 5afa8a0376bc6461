"""A studio as files make it, and how it stands, told without running numbers so that two can be compared."""

from __future__ import annotations

from datetime import UTC, date, datetime
from itertools import chain
from typing import Any

from coaching.loads.loading import Source, load_table
from coaching.loads.models import Load
from coaching.loads.undoing import undo_load
from coaching.monitoring.export import export_rows
from coaching.monitoring.fact_shapes import COLUMNS
from coaching.monitoring.models import Flag, WeekFact
from roster.blocks.models import PlannedExercise
from roster.logs.models import SessionLog, SetLog
from roster.people.models import Client, Coach, KitItem, Pause
from roster.tables.table import Row, Table
from tests.plain_twin.small_files import asked, client, done

NOW = datetime(2026, 4, 15, 7, tzinfo=UTC)
AS_OF = date(2026, 4, 15)
FileRow = dict[str, str]

PEOPLE = [client(kit="dumbbell: 10, 20"), client(client="bo", goal="A pull-up")]
PLAN = [asked(week=str(week), load=str(18 + 2 * week)) for week in (1, 2)]
FIRST, SECOND = done("2026-01-05", minutes="30"), done("2026-01-12", "8@22 7@22 6@22", names="2 A", pain="3")


def table_of(rows: list[FileRow]) -> Table:
    columns = {name: position for position, name in enumerate(dict.fromkeys(chain(*rows)))}
    return Table(columns, [Row(number, tuple(row.get(name, "") for name in columns))
                           for number, row in enumerate(rows, start=2)])  # fmt: skip


def load(kind: str, rows: list[FileRow], coach: Coach, *, now: datetime = NOW, name: str = "") -> Load:
    """A file with these rows, taken into the coach's studio."""
    made = try_to_load(kind, rows, coach, now=now, name=name)
    assert made is not None
    return made


def try_to_load(kind: str, rows: list[FileRow], coach: Coach, *, now: datetime = NOW, name: str = "") -> Load | None:
    """None when the file has faults as things are."""
    source = Source(Load.Door.COMMAND, name or f"{kind}.csv", "0" * 64)
    return load_table(kind, [table_of(rows)], source, coach.studio, by=coach, now=now)[1]


def how_it_stands(coach: Coach) -> dict[str, Any]:
    """Every table that is exported, the record behind them, and the facts and findings that are stored."""
    exported = {table: export_rows(table, coach.studio, as_of=AS_OF, now=NOW) for table in COLUMNS}
    return exported | {"record": _record(coach), "facts": _facts(coach), "findings": _findings(coach)}


def _record(coach: Coach) -> list[tuple[Any, ...]]:
    of_client = {"client__studio": coach.studio}
    people = ("key", "name", "email", "time_zone", "unit", "joined_on", "sends", "minutes", "goal")
    asked = ("session__block__client__key", "session__block__label", "session__week", "session__label",
             "session__suggested_on", "position", "exercise__name_folded", "sets", "reps", "load_g", "rest_s",
             "changed")  # fmt: skip
    done = ("session_log__client__key", "session_log__performed_on", "session_log__planned_session__label", "position",
            "number", "exercise__name_folded", "measure", "reps", "load_g", "load_unit", "is_warm_up")  # fmt: skip
    told = ("client__key", "performed_on", "has_details", "minutes", "effort", "pain", "pain_region", "note")
    rows = [
        Client.objects.filter(studio=coach.studio).values_list(*people),
        KitItem.objects.filter(**of_client).values_list("client__key", "implement", "loads_entered", "unit"),
        Pause.objects.filter(**of_client).standing().values_list("client__key", "from_on", "until_on"),
        PlannedExercise.objects.filter(session__block__client__studio=coach.studio).values_list(*asked),
        SessionLog.objects.filter(**of_client).values_list(*told),
        SetLog.objects.filter(session_log__client__studio=coach.studio).values_list(*done),
    ]
    return sorted(chain(*rows), key=repr)


def _facts(coach: Coach) -> list[tuple[Any, ...]]:
    columns = [field.name for field in WeekFact._meta.concrete_fields if field.name not in ("id", "client")]
    return sorted(WeekFact.objects.filter(client__studio=coach.studio).values_list("client__key", *columns), key=repr)


def _findings(coach: Coach) -> list[tuple[Any, ...]]:
    columns = ("client__key", "kind", "subject", "urgency", "opened_on", "sentence", "evidence")
    return sorted(Flag.objects.holding().filter(client__studio=coach.studio).values_list(*columns), key=repr)


def undo(one: Load, by: Coach) -> None:
    undo_load(one, by=by, now=NOW)
