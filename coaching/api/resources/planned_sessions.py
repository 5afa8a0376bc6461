from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.db.models import Prefetch, prefetch_related_objects

from coaching.api.answering import FactList, OneFact
from coaching.api.fields import RowOf, amount, choice, client_members, count, day, ident, rows, text, truth
from coaching.api.parameters import ClientFilters, any_of, one, week
from coaching.api.parameters import day as on_day
from coaching.monitoring.fact_pages import Person, Placed
from coaching.monitoring.fact_shapes import Row, kilograms, session_row, target_reps
from coaching.monitoring.fact_sources import SESSIONS
from coaching.monitoring.models import Status
from roster.blocks.models import Changed, Measure, PlannedExercise, Slot
from roster.mass import LoadKind


class AskedRow(RowOf):
    position = count("In the session, from 1.")
    exercise_id = ident("The exercise's id.")
    exercise = text("Its name.")
    slot = choice(Slot.choices, "What it is there for.")
    implement = text("What is lifted.", null=True)
    implements_used = count("One, or two held at once.")
    is_each_side = truth("Whether a set is done on each side.")
    target_sets = count("How many sets are asked.")
    target_reps = text("How many reps, seconds or metres: one number, or one for each set, as in 12-10-8.")
    measure = choice(Measure.choices, "What a set counts.")
    load_kind = choice(LoadKind.choices, "What makes it heavy.")
    target_load_kg = amount("Of each implement.", null=True)
    load_entered = amount("The load as the coach wrote it.", null=True)
    load_unit = text("The unit of that, kg or lb.", null=True)
    band = text("The band's name.", null=True)
    rest_s = count("Seconds between sets.", null=True)
    changed = choice(Changed.choices, "Which variable is harder than in the week before.")


class PlannedSessionRow(RowOf):
    id = ident("The planned session's id.")
    client_id, client = client_members()
    block_id = ident("The block's id.")
    block = text("The block's label.")
    week = count("Of the block, from 1.")
    session = text("The session's label.", null=True)
    iso_week = text("The ISO week for which it is planned.")
    suggested_on = day("On which it might be done.")
    status = choice(Status.choices, "What became of it, as at the day asked for.")
    set_completion = amount("Sets done of sets planned, 0 to 1; null while unknown.", null=True)
    done_later = truth("Whether it was done after its week.", null=True)
    performed_on = day("On which it was done.", null=True)
    session_log_id = ident("The log of it.", null=True)
    exercises = rows(AskedRow, "What it asks, in order.")


EXAMPLE: Row = {
    "id": "f3f7a3c6-2f64-4d8a-8a8a-2a1f6f0f9b02", "client_id": "6f0c8a52-3a8e-4b0e-9a55-0d2f6c1c7e11",
    "client": "ada.finn", "block_id": "0d6f7f0a-6f0a-4f3c-8a4b-7b7a2b3f5c21", "block": "First steps", "week": 1,
    "session": "A", "iso_week": "2026-W10", "suggested_on": "2026-03-02", "status": "done", "set_completion": 1.0,
    "done_later": False, "performed_on": "2026-03-02", "session_log_id": "9b8a9b0e-9a3d-4dfb-8a68-5f1f4b0c7d33",
    "exercises": [{
        "position": 1, "exercise_id": "b39e0e0f-54b9-4c35-8b8e-0c3cf2f2a4d0", "exercise": "Goblet squat",
        "slot": "lower", "implement": "dumbbell", "implements_used": 1, "is_each_side": False, "target_sets": 3,
        "target_reps": "8", "measure": "reps", "load_kind": "mass", "target_load_kg": 20.0, "load_entered": 20.0,
        "load_unit": "kg", "band": None, "rest_s": 75, "changed": "none",
    }],
}


class PlannedSessionFilters(ClientFilters):
    block = one("planned_session__block__public_id", "Of one block.")
    status = any_of("status", Status.choices, "What became of it.")
    week_from = week("week_start", "gte", "Planned for this week or a later one.")
    week_to = week("week_start", "lte", "Planned for this week or an earlier one.")
    suggested_from = on_day("planned_session__suggested_on", "gte", "Suggested for this day or later.")
    suggested_to = on_day("planned_session__suggested_on", "lte", "Suggested for this day or earlier.")
    performed_from = on_day("performed_on", "gte", "Done on this day or later.")
    performed_to = on_day("performed_on", "lte", "Done on this day or earlier.")


def planned_session_rows(page: Sequence[Placed]) -> list[Row]:
    asked = PlannedExercise.objects.select_related("exercise").order_by("position")
    prefetch_related_objects([one.fact.planned_session for one in page], Prefetch("exercises", asked))
    return [_row(person, fact) for person, fact in page]


def _row(person: Person, fact: Any) -> Row:
    planned = fact.planned_session
    return {
        **session_row(fact, person.key), "id": planned.public_id, "client_id": person.public_id,
        "block_id": planned.block.public_id, "session_log_id": fact.session_log and fact.session_log.public_id,
        "exercises": [AskedRow().to_representation(_asked_row(asked)) for asked in planned.exercises.all()],
    }


def _asked_row(asked: PlannedExercise) -> Row:
    same = (
        "position", "slot", "implement", "implements_used", "is_each_side", "measure", "load_kind", "load_unit", "band",
        "rest_s", "changed",
    )
    return {
        **{name: getattr(asked, name) for name in same}, "exercise_id": asked.exercise.public_id,
        "exercise": asked.exercise.name, "target_sets": asked.sets, "target_reps": str(target_reps(asked)),
        "target_load_kg": kilograms(asked.load_g),
        "load_entered": None if asked.load_entered is None else float(asked.load_entered),
    }


class PlannedSessions(FactList):
    name = "planned-sessions"
    summary = "Sessions that published blocks ask for, future ones too, with what became of each: client after client, "
    summary += "each one's by the suggested day."
    shape, example, filters, source = PlannedSessionRow, EXAMPLE, PlannedSessionFilters, SESSIONS

    def rows(self, page: Sequence[Placed]) -> list[Row]:
        return planned_session_rows(page)


class OnePlannedSession(OneFact):
    name, summary = "planned-sessions", "One planned session, with what became of it."
    shape, example = PlannedSessionRow, EXAMPLE
    source, about, of_client = SESSIONS, "planned_session", "blocks__sessions"

    def rows(self, page: Sequence[Placed]) -> list[Row]:
        return planned_session_rows(page)
