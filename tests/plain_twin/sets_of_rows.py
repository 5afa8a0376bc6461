"""Which working sets belong to which planned exercise, and what they weigh.

The same exercise planned twice: the sets, by number, fill its rows in order; the last row takes what is left.
"""

from __future__ import annotations

from fractions import Fraction

from tests.plain_twin.record import Client, Log, LoggedSet, PlannedExercise, PlannedSession


def sets_of_rows(session: PlannedSession, log: Log) -> dict[PlannedExercise, list[LoggedSet]]:
    filled: dict[PlannedExercise, list[LoggedSet]] = {}
    for exercise in {planned.exercise for planned in session.exercises}:
        left = working_sets(log, exercise)
        rows = [planned for planned in session.exercises if planned.exercise == exercise]
        for row in rows[:-1]:
            filled[row], left = left[: row.sets], left[row.sets :]
        filled[rows[-1]] = left
    return filled


def working_sets(log: Log, exercise: str) -> list[LoggedSet]:
    sets = [logged for logged in log.sets if logged.exercise == exercise and logged.is_working]
    return sorted(sets, key=lambda logged: logged.number)


def set_completion(session: PlannedSession, log: Log) -> Fraction:
    """Sum of min(working sets, planned sets) / sum of planned sets."""
    return Fraction(counted_sets(session, log), planned_sets(session))


def counted_sets(session: PlannedSession, log: Log) -> int:
    filled = sets_of_rows(session, log)
    return sum(min(len(sets), row.sets) for row, sets in filled.items())


def planned_sets(session: PlannedSession) -> int:
    return sum(row.sets for row in session.exercises)


def row_tonnage_g(row: PlannedExercise, sets: list[LoggedSet]) -> int:
    return sum(logged.reps * logged.load.grams * row.implements for logged in sets if logged.load.grams is not None)


def log_tonnage_g(client: Client, log: Log, session: PlannedSession | None) -> int:
    """Sum of reps x grams x count (each side: twice) over all working sets with a load in kg."""
    tonnage_g = 0
    planned_here: set[str] = set()
    if session is not None:
        for row, sets in sets_of_rows(session, log).items():
            planned_here.add(row.exercise)
            tonnage_g += row_tonnage_g(row, sets)
    for logged in log.sets:
        if logged.exercise not in planned_here and logged.is_working and logged.load.grams is not None:
            tonnage_g += logged.reps * logged.load.grams * implements_unplanned(client, logged.exercise)
    return tonnage_g


def implements_unplanned(client: Client, exercise: str) -> int:
    """As the client's latest plan of the exercise has it; 1 where they were never asked for it."""
    rows = [row for session in client.sessions for row in session.exercises if row.exercise == exercise]
    if not rows:
        return 1
    return max(rows, key=lambda row: (row.session.suggested_on, row.position)).implements
