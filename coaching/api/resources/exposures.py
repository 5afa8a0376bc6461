from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from coaching.api.answering import FactList
from coaching.api.fields import RowOf, amount, client_members, count, day, ident, text, truth
from coaching.api.parameters import ClientFilters, any_of, one, whether
from coaching.api.parameters import day as on_day
from coaching.monitoring.fact_pages import Person, Placed
from coaching.monitoring.fact_shapes import Row, exposure_row
from coaching.monitoring.fact_sources import EXPOSURES
from coaching.monitoring.models import ExposureFact

REASONS = [choice for choice in ExposureFact.Reason.choices if choice[0]]


class ExposureRow(RowOf):
    client_id, client = client_members()
    exercise_id = ident("The exercise's id.")
    exercise = text("Its name.")
    block_id = ident("The block's id.")
    block = text("The block's label.")
    planned_session_id = ident("The planned session's id.")
    week = count("Of the block, from 1.")
    session = text("The session's label.", null=True)
    position = count("In the session, from 1.")
    performed_on = day("On which it was met.")
    session_log_id = ident("In which log.")
    target_sets = count("How many sets were asked.")
    target_reps = text("How many reps, seconds or metres: one number, or one for each set, as in 12-10-8.")
    target_load_kg = amount("Of each implement.", null=True)
    sets_met = count("Sets that did what was asked.")
    met = truth("Whether all of them did.")
    reason = text(f"Why not: {', '.join(value for value, _ in REASONS)} (which is met all the same).", null=True)
    best_e1rm_kg = amount("Epley's estimate from the best set of 1 to 10 reps.", null=True)
    tonnage_kg = amount("Lifted in it.")


EXAMPLE: Row = {
    "client_id": "6f0c8a52-3a8e-4b0e-9a55-0d2f6c1c7e11", "client": "ada.finn",
    "exercise_id": "b39e0e0f-54b9-4c35-8b8e-0c3cf2f2a4d0", "exercise": "Goblet squat",
    "block_id": "0d6f7f0a-6f0a-4f3c-8a4b-7b7a2b3f5c21", "block": "First steps",
    "planned_session_id": "f3f7a3c6-2f64-4d8a-8a8a-2a1f6f0f9b02", "week": 1, "session": "A", "position": 1,
    "performed_on": "2026-03-02", "session_log_id": "9b8a9b0e-9a3d-4dfb-8a68-5f1f4b0c7d33", "target_sets": 3,
    "target_reps": "8", "target_load_kg": 20.0, "sets_met": 3, "met": True, "reason": None,
    "best_e1rm_kg": 25.333333333333332, "tonnage_kg": 480.0,
}


class ExposureFilters(ClientFilters):
    exercise = one("planned_exercise__exercise__public_id", "Of one exercise.")
    block = one("planned_exercise__session__block__public_id", "Of one block.")
    met = whether("met", "Whether what was asked was met.")
    reason = any_of("reason", REASONS, "Why not.")
    performed_from = on_day("performed_on", "gte", "Met on this day or later.")
    performed_to = on_day("performed_on", "lte", "Met on this day or earlier.")


def _row(person: Person, fact: Any) -> Row:
    asked = fact.planned_exercise
    row = exposure_row(fact, person.key)
    return {
        **row, "target_reps": str(row["target_reps"]), "client_id": person.public_id,
        "exercise_id": asked.exercise.public_id, "block_id": asked.session.block.public_id,
        "planned_session_id": asked.session.public_id, "session_log_id": fact.session_log.public_id,
    }


class Exposures(FactList):
    name = "exposures"
    summary = "Each time a client met a planned exercise: client after client, in the order in which they were met."
    shape, example, filters, source = ExposureRow, EXAMPLE, ExposureFilters, EXPOSURES

    def rows(self, page: Sequence[Placed]) -> list[Row]:
        return [_row(person, fact) for person, fact in page]
