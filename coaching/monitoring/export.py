"""Tables for other programs, computed from the record as at a day, whatever was stored last."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime

from django.db.models import QuerySet
from django.utils import timezone

from coaching.monitoring.fact_shapes import Row, exposure_row, flag_row, session_row, week_row
from coaching.monitoring.models import SessionFact
from coaching.monitoring.refresh import AssessedClients, assess_clients, shards
from roster.blocks.models import PlannedExercise, PlannedSession
from roster.labels import fold
from roster.people.models import Client, Studio


def export_rows(
    table: str,
    studio: Studio,
    *,
    as_of: date | None,
    client_key: str | None = None,
    clients: QuerySet[Client] | None = None,
    now: datetime | None = None,
    progress: Callable[[int], None] | None = None,
) -> list[Row]:
    """The rows of one table of COLUMNS, by client key; `as_of` None is each client's own today.

    `clients` narrows to those somebody may see; `progress` hears how many rows there are so far.
    Raises Client.DoesNotExist for a key that names nobody.
    """
    chosen = (Client.objects.all() if clients is None else clients).filter(studio=studio)
    if client_key is not None:
        chosen = chosen.filter(pk=chosen.get(key_folded=fold(client_key)).pk)
    keys = dict(chosen.values_list("pk", "key"))
    # Sorted here: each database has an order of letters of its own.
    in_order = sorted(chosen, key=lambda client: (client.key, client.pk))
    rows: list[Row] = []
    for of_studio, shard in shards(in_order, now=now or timezone.now(), as_of=as_of):
        rows += _TABLES[table](assess_clients(of_studio, shard), keys)
        if progress:
            progress(len(rows))
    return rows


def _session_table(assessed: AssessedClients, keys: dict[int, str]) -> list[Row]:
    from coaching.monitoring.fact_rows import session_rows

    named = _sessions(assessed)
    facts = session_rows(assessed.assessment)
    for fact in facts:
        fact.planned_session = named[fact.planned_session_id]
    facts.sort(key=lambda fact: _session_order(fact, keys))
    return [session_row(fact, keys[fact.client_id]) for fact in facts]


def _session_order(fact: SessionFact, keys: dict[int, str]) -> tuple[str, date, int, int]:
    return keys[fact.client_id], fact.planned_session.suggested_on, fact.client_id, fact.planned_session_id


def _week_table(assessed: AssessedClients, keys: dict[int, str]) -> list[Row]:
    from coaching.monitoring.fact_rows import week_rows

    facts = sorted(week_rows(assessed.assessment), key=lambda fact: (keys[fact.client_id], fact.week_start))
    return [week_row(fact, keys[fact.client_id]) for fact in facts]


def _exposure_table(assessed: AssessedClients, keys: dict[int, str]) -> list[Row]:
    from coaching.monitoring.fact_rows import exposure_rows

    named = _sessions(assessed)
    ids = list(assessed.as_of)
    planned = PlannedExercise.objects.filter(session__block__client_id__in=ids).select_related("exercise").in_bulk()
    facts = sorted(exposure_rows(assessed.assessment), key=lambda fact: (keys[fact.client_id], fact.ordinal))
    for fact in facts:
        fact.planned_exercise = planned[fact.planned_exercise_id]
        fact.planned_exercise.session = named[fact.planned_exercise.session_id]
    return [exposure_row(fact, keys[fact.client_id]) for fact in facts]


def _flag_table(assessed: AssessedClients, keys: dict[int, str]) -> list[Row]:
    """Every flag that holds, seen, put aside or folded as it may be, unless a coach has closed that episode."""
    rows = [flag_row(flag, keys[flag.client_id]) for flag in assessed.standing_flags()]
    return sorted(rows, key=lambda row: (row["client"], row["kind"], row["subject"]))


def _sessions(assessed: AssessedClients) -> dict[int, PlannedSession]:
    sessions = PlannedSession.objects.filter(block__client_id__in=list(assessed.as_of)).select_related("block")
    return sessions.in_bulk()


_TABLES: dict[str, Callable[[AssessedClients, dict[int, str]], list[Row]]] = {
    "sessions": _session_table,
    "weeks": _week_table,
    "exposures": _exposure_table,
    "flags": _flag_table,
}
