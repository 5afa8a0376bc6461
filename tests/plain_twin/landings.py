"""The stay at one prescribed load, and the rounds through the stages.

Left out of landings: exposures that are not_logged or other_load, in a deload stage, or performed less than 7 days
after a session that came 14 or more days after the session before it.
"""

from __future__ import annotations

from datetime import date, timedelta

from tests.plain_twin.exposures import Exposure
from tests.plain_twin.linking import LinkedLog
from tests.plain_twin.mass import Load
from tests.plain_twin.record import PlannedExercise

Landing = list[Exposure]


def landings(exposures_of_exercise: list[Exposure], returns: list[date]) -> list[Landing]:
    """Consecutive exposures of equal prescribed load, across blocks; the last one is the present landing."""
    found: list[Landing] = []
    for exposure in exposures_of_exercise:
        if is_left_out(exposure, returns):
            continue
        if found and found[-1][-1].row.load == exposure.row.load:
            found[-1].append(exposure)
        else:
            found.append([exposure])
    return found


def is_left_out(exposure: Exposure, returns: list[date]) -> bool:
    if exposure.reason in ("not_logged", "other_load") or exposure.row.changed == "deload":
        return True
    return any(day <= exposure.performed_on < day + timedelta(days=7) for day in returns)


def returns_after_a_gap(links: list[LinkedLog]) -> list[date]:
    """Days of sessions that came 14 or more days after the session before."""
    days = sorted(link.log.performed_on for link in links)
    return [day for before, day in zip(days, days[1:], strict=False) if (day - before).days >= 14]


def round_of(row: PlannedExercise) -> list[PlannedExercise]:
    """The run of planned rows of the exercise in the row's block at the row's load, deload apart."""
    rows = [
        planned
        for session in row.session.block.sessions
        for planned in session.exercises
        if planned.exercise == row.exercise and planned.changed != "deload"
    ]
    rows.sort(key=lambda planned: (planned.session.suggested_on, planned.position))
    for run in _runs_at_one_load(rows):
        if row in run:
            return run
    return []


def _runs_at_one_load(rows: list[PlannedExercise]) -> list[list[PlannedExercise]]:
    runs: list[list[PlannedExercise]] = []
    load: Load | None = None
    for row in rows:
        if row.load != load:
            runs.append([])
        runs[-1].append(row)
        load = row.load
    return runs


def stages_of(run: list[PlannedExercise]) -> list[tuple[int, tuple[int, ...], int | None]]:
    """Distinct sets x reps x rest, in order of time."""
    stages = []
    for row in run:
        if row.stage not in stages:
            stages.append(row.stage)
    return stages
