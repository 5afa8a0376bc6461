"""Where facts of each kind come from, stored or computed, in the same shape and with the same record at hand."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from django.db.models import QuerySet

from coaching.monitoring.models import ExposureFact, Flag, LogFact, SessionFact, WeekFact
from coaching.monitoring.refresh import AssessedClients
from roster.blocks.models import Exercise, PlannedExercise, PlannedSession
from roster.logs.models import SessionLog

Computed = Callable[[AssessedClients], list[Any]]


@dataclass(frozen=True)
class FactSource:
    """`order` is that of one client's facts; with the client it tells each from all others. `texts` are words in it."""

    stored: Callable[[], QuerySet[Any]]
    computed: Computed
    order: tuple[str, ...]
    texts: frozenset[str] = frozenset()


def _sessions(assessed: AssessedClients) -> list[SessionFact]:
    from coaching.monitoring.fact_rows import session_rows

    facts, clients = session_rows(assessed.assessment), list(assessed.as_of)
    attach(facts, "planned_session", _planned_sessions(clients))
    attach(facts, "session_log", SessionLog.objects.filter(client_id__in=clients))
    return facts


def _logs(assessed: AssessedClients) -> list[LogFact]:
    from coaching.monitoring.fact_rows import log_rows

    facts, clients = log_rows(assessed.assessment), list(assessed.as_of)
    attach(facts, "session_log", SessionLog.objects.filter(client_id__in=clients).select_related("submission"))
    attach(facts, "planned_session", _planned_sessions(clients))
    return facts


def _weeks(assessed: AssessedClients) -> list[WeekFact]:
    from coaching.monitoring.fact_rows import week_rows

    return week_rows(assessed.assessment)


def _exposures(assessed: AssessedClients) -> list[ExposureFact]:
    from coaching.monitoring.fact_rows import exposure_rows

    facts, clients = exposure_rows(assessed.assessment), list(assessed.as_of)
    planned = PlannedExercise.objects.filter(session__block__client_id__in=clients)
    attach(facts, "planned_exercise", planned.select_related("exercise", "session__block"))
    attach(facts, "session_log", SessionLog.objects.filter(client_id__in=clients))
    return facts


def _flags(assessed: AssessedClients) -> list[Flag]:
    return _with_exercises(assessed.standing_flags())


def _flags_closed_too(assessed: AssessedClients) -> list[Flag]:
    return _with_exercises(assessed.flags_with_acts())


def _with_exercises(facts: list[Flag]) -> list[Flag]:
    attach(facts, "exercise", Exercise.objects.filter(pk__in={flag.exercise_id for flag in facts}))
    return facts


def _planned_sessions(clients: list[int]) -> QuerySet[PlannedSession]:
    return PlannedSession.objects.filter(block__client_id__in=clients).select_related("block")


def attach(facts: Iterable[Any], name: str, rows: QuerySet[Any]) -> None:
    """Put each fact's own row at hand, as select_related does for stored facts."""
    by_id = rows.in_bulk()
    for fact in facts:
        key = getattr(fact, f"{name}_id")
        if key is not None:
            setattr(fact, name, by_id[key])


SESSIONS = FactSource(
    lambda: SessionFact.objects.select_related("planned_session__block", "session_log"),
    _sessions,
    ("planned_session__suggested_on", "planned_session__public_id"),
)
LOGS = FactSource(
    lambda: LogFact.objects.select_related("session_log__submission", "planned_session__block"),
    _logs,
    ("performed_on", "session_log__public_id"),
)
WEEKS = FactSource(lambda: WeekFact.objects.all(), _weeks, ("week_start",))
EXPOSURES = FactSource(
    lambda: ExposureFact.objects.select_related(
        "planned_exercise__exercise", "planned_exercise__session__block", "session_log"
    ),
    _exposures,
    (
        "performed_on", "planned_exercise__session__suggested_on", "planned_exercise__session__public_id",
        "planned_exercise__position",
    ),
)
FLAG_ORDER = ("kind", "subject")
FLAGS = FactSource(
    lambda: Flag.objects.standing().select_related("exercise"),
    _flags,
    FLAG_ORDER,
    frozenset(FLAG_ORDER),
)
FLAGS_CLOSED_TOO = FactSource(
    lambda: Flag.objects.holding().select_related("exercise"), _flags_closed_too, FLAG_ORDER, frozenset(FLAG_ORDER)
)
