"""Tables for other programs, computed from the record as at a day, whatever was stored last."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from typing import Any

from django.db.models import QuerySet
from django.utils import timezone

from coaching.monitoring.refresh import AssessedClients, assess_clients, shards
from roster.blocks.models import PlannedExercise, PlannedSession
from roster.labels import fold
from roster.people.models import Client, Studio

Row = dict[str, Any]

COLUMNS: dict[str, list[str]] = {
    "sessions": [
        "client", "block", "week", "session", "iso_week", "suggested_on", "status", "set_completion", "done_later",
        "performed_on",
    ],
    "weeks": [
        "client", "iso_week", "due", "done", "partial", "told", "missed", "overdue", "awaited", "not_due", "turnout",
        "completion", "tonnage_kg", "dose", "dose_uncapped", "minutes", "density_kg_min", "session_load",
    ],
    "exposures": [
        "client", "exercise", "block", "week", "session", "position", "performed_on", "target_sets", "target_reps",
        "target_load_kg", "sets_met", "met", "reason", "best_e1rm_kg", "tonnage_kg",
    ],
    "flags": ["client", "kind", "subject", "urgency", "opened_on", "sentence"],
}
GRAMS_PER_KILOGRAM = 1000


def export_rows(
    table: str,
    studio: Studio,
    *,
    as_of: date | None,
    client_key: str | None = None,
    clients: QuerySet[Client] | None = None,
    now: datetime | None = None,
) -> list[Row]:
    """The rows of one table of COLUMNS, by client key; `as_of` None is each client's own today.

    `clients` narrows to those somebody may see. Raises Client.DoesNotExist for a key that names nobody.
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
    return rows


def _session_table(assessed: AssessedClients, keys: dict[int, str]) -> list[Row]:
    from analytics.training_weeks import iso_week
    from coaching.monitoring.fact_rows import session_rows

    named = _sessions(assessed)
    rows = [
        {
            "client": keys[fact.client_id], **_named(named[fact.planned_session_id]),
            "iso_week": iso_week(fact.week_start), "suggested_on": named[fact.planned_session_id].suggested_on,
            "status": str(fact.status), "set_completion": fact.set_completion, "done_later": fact.done_later,
            "performed_on": fact.performed_on, "order": (fact.client_id, fact.planned_session_id),
        }
        for fact in session_rows(assessed.assessment)
    ]
    rows.sort(key=lambda row: (row["client"], row["suggested_on"], row.pop("order")))
    return rows


def _week_table(assessed: AssessedClients, keys: dict[int, str]) -> list[Row]:
    from analytics.training_weeks import iso_week
    from coaching.monitoring.fact_rows import week_rows

    facts = sorted(week_rows(assessed.assessment), key=lambda fact: (keys[fact.client_id], fact.week_start))
    figures = COLUMNS["weeks"][2:]
    return [
        {
            "client": keys[fact.client_id], "iso_week": iso_week(fact.week_start),
            **{name: getattr(fact, name) for name in figures},
        }
        for fact in facts
    ]


def _exposure_table(assessed: AssessedClients, keys: dict[int, str]) -> list[Row]:
    from coaching.monitoring.fact_rows import exposure_rows

    named = _sessions(assessed)
    ids = list(assessed.as_of)
    planned = PlannedExercise.objects.filter(session__block__client_id__in=ids).select_related("exercise").in_bulk()
    facts = sorted(exposure_rows(assessed.assessment), key=lambda fact: (keys[fact.client_id], fact.ordinal))
    rows = []
    for fact in facts:
        asked = planned[fact.planned_exercise_id]
        rows.append({
            "client": keys[fact.client_id], "exercise": asked.exercise.name, **_named(named[asked.session_id]),
            "position": asked.position, "performed_on": fact.performed_on, "target_sets": asked.sets,
            "target_reps": "-".join(map(str, asked.set_targets)) if asked.set_targets else asked.reps,
            "target_load_kg": None if asked.load_g is None else asked.load_g / GRAMS_PER_KILOGRAM,
            "sets_met": fact.sets_met, "met": fact.met, "reason": str(fact.reason), "best_e1rm_kg": fact.best_e1rm_kg,
            "tonnage_kg": fact.tonnage_g / GRAMS_PER_KILOGRAM,
        })
    return rows


def _flag_table(assessed: AssessedClients, keys: dict[int, str]) -> list[Row]:
    """Every flag that holds, seen, put aside or folded as it may be, unless a coach has closed that episode."""
    rows = [
        {
            "client": keys[flag.client_id], "kind": str(flag.kind), "subject": flag.subject,
            "urgency": str(flag.urgency), "opened_on": flag.opened_on, "sentence": flag.sentence,
        }
        for flag in assessed.standing_flags()
    ]
    return sorted(rows, key=lambda row: (row["client"], row["kind"], row["subject"]))


def _sessions(assessed: AssessedClients) -> dict[int, PlannedSession]:
    sessions = PlannedSession.objects.filter(block__client_id__in=list(assessed.as_of)).select_related("block")
    return sessions.in_bulk()


def _named(session: PlannedSession) -> Row:
    return {"block": session.block.label, "week": session.week, "session": session.label}


_TABLES: dict[str, Callable[[AssessedClients, dict[int, str]], list[Row]]] = {
    "sessions": _session_table,
    "weeks": _week_table,
    "exposures": _exposure_table,
    "flags": _flag_table,
}
