"""What a planned session asks for: minutes, tonnage, density.

Minutes: 3 s a rep (a second or a metre is one second), both sides counted, rests between sets, one minute a change of
exercise, five minutes of warm-up. Unknown (None) where a rest is needed and nobody asked for one.
"""

from __future__ import annotations

from fractions import Fraction

from tests.plain_twin.mass import kilograms
from tests.plain_twin.record import PlannedExercise, PlannedSession

SECONDS_A_REP = {"reps": 3, "s": 1, "m": 1}
WARM_UP_MINUTES = 5
MINUTES_A_CHANGE = 1


def row_seconds(row: PlannedExercise) -> int | None:
    rests = row.sets - 1
    if rests and row.rest_s is None:
        return None
    sides = 2 if row.is_each_side else 1
    return sum(row.targets) * SECONDS_A_REP[row.measure] * sides + rests * (row.rest_s or 0)


def planned_minutes(session: PlannedSession) -> Fraction | None:
    names = [row.exercise for row in session.exercises]
    changes = sum(before != after for before, after in zip(names, names[1:], strict=False))
    seconds = [row_seconds(row) for row in session.exercises]
    if None in seconds:
        return None
    return WARM_UP_MINUTES + changes * MINUTES_A_CHANGE + Fraction(sum(seconds), 60)


def planned_tonnage_kg(session: PlannedSession) -> Fraction:
    return kilograms(sum(row.planned_tonnage_g for row in session.exercises))


def planned_density_kg_min(session: PlannedSession) -> Fraction | None:
    minutes = planned_minutes(session)
    return None if minutes is None else planned_tonnage_kg(session) / minutes
