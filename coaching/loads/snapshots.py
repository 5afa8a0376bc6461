"""How a client, exercise, block or log stands in the record with all that belongs to it, and how two states differ."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator
from datetime import date, datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from django.db.models import F, Model

from roster.batches import in_batches
from roster.blocks.models import Block, Exercise, PlannedExercise, PlannedSession
from roster.logs.models import SessionLog, SetLog
from roster.people.models import Client, Consent, KitItem, Pause
from roster.watching import Thing

# What belongs to a thing, each table by the path that leads from its rows to the thing's id; owners first.
BELONGING: dict[Thing, list[tuple[type[Model], str]]] = {
    Thing.CLIENT: [(Client, "pk"), (Consent, "client"), (KitItem, "client"), (Pause, "client")],
    Thing.EXERCISE: [(Exercise, "pk")],
    Thing.BLOCK: [(Block, "pk"), (PlannedSession, "block"), (PlannedExercise, "session__block")],
    Thing.LOG: [(SessionLog, "submission"), (SetLog, "session_log__submission")],
}
TABLES: dict[str, type[Model]] = {
    model._meta.label_lower: model for belonging in BELONGING.values() for model, _ in belonging
}
# Counts changes, and is none itself.
COUNTER = "version"
OWNER = "owner_of_row"

# By table and id, the columns of each row in a form that JSON keeps as it is.
Rows = dict[str, dict[str, dict[str, Any]]]
Change = dict[str, dict[str, dict[str, tuple[Any, Any]]]]


def take(thing: Thing, ids: Iterable[int]) -> dict[int, Rows]:
    """How these stand now; those that are gone are left out."""
    found: dict[int, Rows] = {}
    wanted = list(ids)
    for model, path in BELONGING[thing]:
        for batch in in_batches(wanted):
            for owner, row in _rows(model, path, batch):
                found.setdefault(owner, {}).setdefault(model._meta.label_lower, {})[str(row["id"])] = row
    return found


def _rows(model: type[Model], path: str, ids: list[int]) -> Iterator[tuple[int, dict[str, Any]]]:
    columns = [field.attname for field in model._meta.concrete_fields if field.attname != COUNTER]
    for row in model._default_manager.filter(**{f"{path}__in": ids}).values(*columns, **{OWNER: F(path)}):
        yield row.pop(OWNER), {name: _plain(value) for name, value in row.items()}


def _plain(value: Any) -> Any:
    if isinstance(value, (date, datetime)):
        return value.isoformat()
    return str(value) if isinstance(value, (Decimal, UUID)) else value


def fingerprint(rows: Rows) -> str:
    text = json.dumps(rows, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def difference(before: Rows, after: Rows) -> dict[str, Any]:
    """Rows made, rows dropped, and of the others each column that changed, with what it held and holds."""
    made: Rows = {}
    dropped: Rows = {}
    changed: Change = {}
    for table in {*before, *after}:
        old, new = before.get(table, {}), after.get(table, {})
        made[table] = {pk: row for pk, row in new.items() if pk not in old}
        dropped[table] = {pk: row for pk, row in old.items() if pk not in new}
        changed[table] = {pk: _columns(old[pk], new[pk]) for pk in old if pk in new and old[pk] != new[pk]}
    return {"made": made, "dropped": dropped, "changed": changed}


def _columns(old: dict[str, Any], new: dict[str, Any]) -> dict[str, tuple[Any, Any]]:
    return {name: (old[name], new[name]) for name in old if old[name] != new[name]}


def changed_since(left: dict[str, Any], now: Rows) -> list[tuple[str, str]]:
    """Of a difference as it was left: table and id of each row that is no longer so."""
    found = []
    for table, rows in left["made"].items():
        found += [(table, pk) for pk, row in rows.items() if now.get(table, {}).get(pk) != row]
    for table, changes in left["changed"].items():
        for pk, columns in changes.items():
            row = now.get(table, {}).get(pk)
            if row is None or any(row[name] != after for name, (_, after) in columns.items()):
                found.append((table, pk))
    return found


def take_back(left: dict[str, Any]) -> None:
    """Put every row back to what it was before the difference; to be called within a transaction."""
    for table in reversed(TABLES):
        _delete(TABLES[table], [int(pk) for pk in left["made"].get(table, ())])
    for table, changes in left["changed"].items():
        for pk, columns in changes.items():
            put_back(TABLES[table], int(pk), {name: before for name, (before, _) in columns.items()})
    for table, model in TABLES.items():
        restore(model, left["dropped"].get(table, {}).values())


def restore(model: type[Model], rows: Iterable[dict[str, Any]]) -> None:
    """Rows again as they were, under their old ids."""
    model._default_manager.bulk_create(model(**_values(model, row)) for row in rows)


def _delete(model: type[Model], ids: list[int]) -> None:
    for batch in in_batches(ids):
        model._default_manager.filter(pk__in=batch).delete()


def put_back(model: type[Model], pk: int, columns: dict[str, Any]) -> None:
    values = _values(model, columns)
    if any(field.attname == COUNTER for field in model._meta.concrete_fields):
        values[COUNTER] = F(COUNTER) + 1
    model._default_manager.filter(pk=pk).update(**values)


def _values(model: type[Model], columns: dict[str, Any]) -> dict[str, Any]:
    fields = {field.attname: field for field in model._meta.concrete_fields}
    return {name: fields[name].to_python(value) for name, value in columns.items()}
