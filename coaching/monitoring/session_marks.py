"""What became of planned sessions, as the marks of strips and boards tell it."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import date
from functools import lru_cache
from typing import NamedTuple

from django.db.models import Count, QuerySet, TextField
from django.db.models.functions import Cast, JSONArray

from coaching.monitoring.models import SessionFact

# How many sessions of a week came to each status.
WeekOutcome = Counter[str]


class SessionMark(NamedTuple):
    """What a mark of the turnout strip tells; many clients have equal ones."""

    week_start: date
    block_week: int
    label: str
    suggested_on: date
    status: str
    set_completion: float | None
    done_later: bool
    performed_on: date | None
    counted_sets: int
    planned_sets: int


def mark_of(fact: SessionFact) -> SessionMark:
    """The mark of a fact that has its planned session at hand."""
    planned = fact.planned_session
    return SessionMark(
        week_start=fact.week_start,
        block_week=planned.week,
        label=planned.label,
        suggested_on=planned.suggested_on,
        status=str(fact.status),
        set_completion=fact.set_completion,
        done_later=bool(fact.done_later),
        performed_on=fact.performed_on,
        counted_sets=fact.counted_sets,
        planned_sets=fact.planned_sets,
    )


def by_suggested_day(fact: SessionFact) -> tuple[date, int]:
    """The order of planned sessions."""
    return fact.planned_session.suggested_on, fact.pk


def stored_marks(sessions: QuerySet[SessionFact]) -> Iterator[tuple[int, SessionMark]]:
    """Each with its client's id; by client, in order of suggested day."""
    in_order = sessions.order_by("client_id", "planned_session__suggested_on", "pk")
    for client_id, text in in_order.values_list("client_id", Cast(JSONArray(*_COLUMNS), TextField())).iterator():
        yield client_id, _mark(text)


_COLUMNS = (
    "week_start", "planned_session__week", "planned_session__label", "planned_session__suggested_on", "status",
    "set_completion", "done_later", "performed_on", "counted_sets", "planned_sets",
)  # fmt: skip


# A board has ten thousand marks but few different ones: as text, each of these is taken apart once.
@lru_cache(maxsize=16_384)
def _mark(text: str) -> SessionMark:
    week, block_week, label, suggested, status, share, later, performed, counted, planned = json.loads(text)
    return SessionMark(
        date.fromisoformat(week), block_week, label, date.fromisoformat(suggested), status, share, bool(later),
        performed and date.fromisoformat(performed), counted, planned,
    )  # fmt: skip


def stored_outcomes(sessions: QuerySet[SessionFact]) -> dict[int, WeekOutcome]:
    """By client, counted by the database."""
    outcomes: dict[int, WeekOutcome] = {}
    for client_id, status, count in sessions.order_by().values_list("client_id", "status").annotate(Count("pk")):
        outcomes.setdefault(client_id, Counter())[status] = count
    return outcomes


def outcome_of(marks: Iterable[SessionMark], week_start: date) -> WeekOutcome:
    return Counter(mark.status for mark in marks if mark.week_start == week_start)
