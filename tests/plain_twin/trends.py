"""Level and slope of completion, dose and density against plan over the last due weeks.

The level is a ratio of sums over the weeks, the slope Theil-Sen a week with its 90 % interval. Fewer than five weeks
with a value: too little to tell; an interval that holds zero: steady or unclear.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from tests.plain_twin import theil_sen
from tests.plain_twin.client_day import ClientDay
from tests.plain_twin.iso_weeks import monday_of
from tests.plain_twin.mass import kilograms
from tests.plain_twin.planned_figures import planned_density_kg_min, planned_minutes, planned_tonnage_kg
from tests.plain_twin.sets_of_rows import counted_sets, log_tonnage_g, planned_sets, row_tonnage_g, sets_of_rows
from tests.plain_twin.statuses import SessionState
from tests.plain_twin.weeks import is_judged

FEWEST_WEEKS = 5


@dataclass(frozen=True)
class Trend:
    level: Fraction | None
    slope: float | None
    low: float | None
    high: float | None
    verdict: str


def trend(at: ClientDay, figure: str, weeks: int) -> Trend:
    """`figure` is completion, dose or density_against_plan."""
    by_week = _last_due_weeks(at, weeks)
    ratio = RATIOS[figure]
    values = {monday: ratio(at, states) for monday, states in by_week.items()}
    points = [(_week_number(monday), float(value)) for monday, value in values.items() if value is not None]
    level = ratio(at, [state for states in by_week.values() for state in states])
    if len(points) < FEWEST_WEEKS:
        return Trend(level, None, None, None, "too little to tell")
    low, high = theil_sen.interval(points)
    verdict = "steady or unclear" if low <= 0 <= high else "rising" if low > 0 else "falling"
    return Trend(level, theil_sen.slope(points), low, high, verdict)


def _last_due_weeks(at: ClientDay, weeks: int) -> dict[date, list[SessionState]]:
    by_week: dict[date, list[SessionState]] = {}
    for state in at.states:
        by_week.setdefault(monday_of(state.session.suggested_on), []).append(state)
    due = sorted(monday for monday, states in by_week.items() if any(state.is_due for state in states))
    return {monday: by_week[monday] for monday in due[-weeks:]}


def _week_number(monday: date) -> int:
    return monday.toordinal() // 7


def completion_ratio(at: ClientDay, states: list[SessionState]) -> Fraction | None:
    """Working sets that count / planned sets."""
    judged = [state for state in states if is_judged(state)]
    planned = sum(planned_sets(state.session) for state in judged)
    counted = sum(counted_sets(state.session, state.log) for state in judged if state.log is not None)
    return Fraction(counted, planned) if planned else None


def dose_ratio(at: ClientDay, states: list[SessionState]) -> Fraction | None:
    """Tonnage done, at most what was planned, / tonnage planned."""
    planned_g = capped_g = 0
    for state in states:
        if is_judged(state):
            filled = sets_of_rows(state.session, state.log) if state.log is not None else {}
            for row in state.session.exercises:
                planned_g += row.planned_tonnage_g
                capped_g += min(row_tonnage_g(row, filled.get(row, [])), row.planned_tonnage_g)
    return Fraction(capped_g, planned_g) if planned_g else None


def density_against_plan(at: ClientDay, states: list[SessionState]) -> Fraction | None:
    """(kg lifted / minutes) / (kg planned / planned minutes), over sessions with details and minutes, planned with a
    load and with every rest.
    """
    lifted_kg = minutes = asked_kg = asked_minutes = Fraction(0)
    for state in states:
        log = state.log
        if log is not None and log.has_details and log.minutes is not None and planned_density_kg_min(state.session):
            lifted_kg += kilograms(log_tonnage_g(at.client, log, state.session))
            minutes += log.minutes
            asked_kg += planned_tonnage_kg(state.session)
            asked_minutes += planned_minutes(state.session)
    if not minutes or not asked_kg:
        return None
    return (lifted_kg / minutes) / (asked_kg / asked_minutes)


RATIOS = {"completion": completion_ratio, "dose": dose_ratio, "density_against_plan": density_against_plan}
