"""Facts as rows for other programs: what an export writes and what the interface for programs answers.

A fact comes with its record at hand: the planned session and its block, the planned exercise and its exercise.
"""

from __future__ import annotations

from typing import Any

from analytics.iso_weeks import iso_week
from coaching.monitoring.models import ExposureFact, Flag, SessionFact, WeekFact
from roster.blocks.models import PlannedExercise, PlannedSession

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


def session_row(fact: SessionFact, client_key: str) -> Row:
    planned = fact.planned_session
    return {
        "client": client_key, **_named(planned), "iso_week": iso_week(fact.week_start),
        "suggested_on": planned.suggested_on, "status": str(fact.status), "set_completion": fact.set_completion,
        "done_later": fact.done_later, "performed_on": fact.performed_on,
    }


def week_row(fact: WeekFact, client_key: str) -> Row:
    figures = COLUMNS["weeks"][2:]
    return {
        "client": client_key, "iso_week": iso_week(fact.week_start), **{name: getattr(fact, name) for name in figures},
    }


def exposure_row(fact: ExposureFact, client_key: str) -> Row:
    asked = fact.planned_exercise
    return {
        "client": client_key, "exercise": asked.exercise.name, **_named(asked.session), "position": asked.position,
        "performed_on": fact.performed_on, "target_sets": asked.sets, "target_reps": target_reps(asked),
        "target_load_kg": kilograms(asked.load_g), "sets_met": fact.sets_met, "met": fact.met,
        "reason": str(fact.reason), "best_e1rm_kg": fact.best_e1rm_kg, "tonnage_kg": kilograms(fact.tonnage_g),
    }


def flag_row(flag: Flag, client_key: str) -> Row:
    return {
        "client": client_key, "kind": str(flag.kind), "subject": flag.subject, "urgency": str(flag.urgency),
        "opened_on": flag.opened_on, "sentence": flag.sentence,
    }


def target_reps(asked: PlannedExercise) -> int | str:
    """A number; or, where each set has its own, all of them, as in 12-10-8."""
    return "-".join(map(str, asked.set_targets)) if asked.set_targets else asked.reps


def kilograms(grams: int | None) -> float | None:
    return None if grams is None else grams / GRAMS_PER_KILOGRAM


def _named(session: PlannedSession) -> Row:
    return {"block": session.block.label, "week": session.week, "session": session.label}
