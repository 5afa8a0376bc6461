"""Storing facts: only rows that changed are written, rows that no longer follow from the record are deleted."""

from __future__ import annotations

from functools import cache
from operator import itemgetter
from typing import Any

from analytics.assessment import Assessment
from coaching.databases.compiled import CompiledRead
from coaching.databases.compiled_writes import CompiledWrite
from coaching.monitoring import fact_columns
from coaching.monitoring.fact_columns import Columns
from coaching.monitoring.fact_rows import state_rows
from coaching.monitoring.models import ClientState, ExposureFact, LogFact, SessionFact, WeekFact

_BATCH = 2_000


def store_facts(assessment: Assessment) -> None:
    """Make the fact tables of the assessed clients say what the assessment says."""
    client_ids = assessment.history.record.clients["client_id"].tolist()
    _store(SessionFact, client_ids, fact_columns.session_columns(assessment), ["planned_session_id"])
    _store(LogFact, client_ids, fact_columns.log_columns(assessment), ["session_log_id"])
    _store(WeekFact, client_ids, fact_columns.week_columns(assessment), ["client_id", "week_start"])
    _store(ExposureFact, client_ids, fact_columns.exposure_columns(assessment), ["planned_exercise_id"])
    _store_states(state_rows(assessment))


def _store(model: type[Any], client_ids: list[int], columns: Columns, key: list[str]) -> None:
    fields = list(columns)
    key_of = itemgetter(*(fields.index(name) for name in key))
    stored = {key_of(row): row for row in _stored(model, *fields).rows(client_ids)}
    # Most rows are as they were.
    changed = [row for row in zip(*columns.values(), strict=True) if stored.pop(key_of(row), None) != row]
    _delete(model, key, list(stored))
    _written(model, tuple(fields), tuple(key)).write(changed)


@cache
def _stored(model: type[Any], *fields: str) -> CompiledRead:
    return CompiledRead(lambda ids: model.objects.filter(client_id__in=ids).order_by(), fields)


@cache
def _written(model: type[Any], fields: tuple[str, ...], key: tuple[str, ...]) -> CompiledWrite:
    return CompiledWrite(model, fields, key)


def _delete(model: type[Any], key: list[str], gone: list[Any]) -> None:
    for start in range(0, len(gone), _BATCH):
        batch = gone[start : start + _BATCH]
        if len(key) == 1:
            model.objects.filter(pk__in=batch).delete()
        else:
            model.objects.filter(pk__in=_ids_of(model, key, batch)).delete()


def _ids_of(model: type[Any], key: list[str], rows: list[tuple[Any, ...]]) -> list[int]:
    wanted = set(rows)
    candidates = model.objects.filter(**{f"{key[0]}__in": {row[0] for row in rows}}).values_list("pk", *key)
    return [pk for pk, *row in candidates if tuple(row) in wanted]


def _store_states(states: list[ClientState]) -> None:
    fields = [field.attname for field in ClientState._meta.concrete_fields if field.attname != "client_id"]
    ClientState.objects.bulk_create(
        states, batch_size=_BATCH, update_conflicts=True, unique_fields=["client"], update_fields=fields
    )
