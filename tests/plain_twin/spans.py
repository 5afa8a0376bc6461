"""One client over any days: figures, load steps, best sets, and what was found on which days.

Figures are defined as those of a week: planned sessions by their suggested day, logs by the day performed.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from tests.plain_twin.client_day import ClientDay
from tests.plain_twin.finding import Finding
from tests.plain_twin.findings import findings_on, opened_on
from tests.plain_twin.mass import kilograms
from tests.plain_twin.record import Client, LoggedSet, Record
from tests.plain_twin.statuses import ATTENDED
from tests.plain_twin.strength import e1rm_kg
from tests.plain_twin.trends import RATIOS
from tests.plain_twin.weeks import performed_figures_of_week, planned_figures_of_week

ONE_DAY = timedelta(days=1)


def figures_of_span(at: ClientDay, first: date, last: date) -> dict:
    states = [state for state in at.states if first <= state.session.suggested_on <= last]
    links = [link for link in at.links if first <= link.log.performed_on <= last]
    return {
        **planned_figures_of_week(states),
        **performed_figures_of_week(at, links),
        "attended": sum(state.status in ATTENDED for state in states),
        "logs": len(links),
        "density_against_plan": RATIOS["density_against_plan"](at, states),
    }


@dataclass(frozen=True)
class Step:
    exercise: str
    from_kg: Fraction
    to_kg: Fraction
    taken_on: date


def load_steps(at: ClientDay) -> list[Step]:
    """Landings above the one before, on which something was lifted at 99 % of their load or more."""
    found = []
    for exercise in at.exercises:
        landings = at.landings_of(exercise)
        for before, landing in zip(landings, landings[1:], strict=False):
            lower, higher = before[0].row.load.grams, landing[0].row.load.grams
            if lower is None or higher is None or higher <= lower:
                continue
            days = [one.performed_on for one in landing if any(reaches(logged, higher) for logged in one.sets)]
            if days:
                found.append(Step(exercise, kilograms(lower), kilograms(higher), min(days)))
    return found


def reaches(logged: LoggedSet, grams: int) -> bool:
    return logged.load.grams is not None and 100 * logged.load.grams >= 99 * grams


@dataclass(frozen=True)
class Best:
    exercise: str
    performed_on: date
    reps: int
    grams: int | None
    e1rm_kg: Fraction | None
    at_least_kg: Fraction | None


def best_sets(at: ClientDay, first: date, last: date) -> list[Best]:
    """The highest e1RM of each exercise, of 10 reps where there are more; then the heaviest, the most reps."""
    found = []
    for exercise in at.exercises:
        candidates = [
            _candidate(exercise, one.performed_on, one.row.measure, logged)
            for one in at.exposures_of(exercise)
            if first <= one.performed_on <= last
            for logged in one.sets
        ]
        if candidates:
            found.append(max(candidates, key=_goodness))
    return found


def _candidate(exercise: str, performed_on: date, measure: str, logged: LoggedSet) -> Best:
    grams = logged.load.grams
    is_known = grams is not None and measure == "reps"
    estimate = e1rm_kg(kilograms(grams), logged.reps) if is_known else None
    at_least = e1rm_kg(kilograms(grams), min(logged.reps, 10)) if is_known else None
    return Best(exercise, performed_on, logged.reps, grams, estimate, at_least)


def _goodness(best: Best) -> tuple:
    at_least = -1 if best.at_least_kg is None else best.at_least_kg
    return at_least, -1 if best.grams is None else best.grams, best.reps, -best.performed_on.toordinal()


@dataclass(frozen=True)
class Episode:
    kind: str
    condition: str
    # As on the last day on which it held.
    urgency: str
    opened_on: date
    ended_on: date | None


def episodes(record: Record, client: Client, first: date, last: date) -> list[Episode]:
    """Day after day: what holds today and did not yesterday begins, what held and does no longer is over."""
    found, running = [], {}
    day = first
    while day <= last:
        today = {finding.condition: finding for finding in findings_on(record, client, day)}
        for condition in [condition for condition in running if condition not in today]:
            opened, finding = running.pop(condition)
            found.append(Episode(*condition, finding.urgency, opened, day))
        for condition, finding in today.items():
            opened = running[condition][0] if condition in running else _opened(record, client, finding, day, first)
            running[condition] = (opened, finding)
        day += ONE_DAY
    still = [Episode(*condition, finding.urgency, opened, None) for condition, (opened, finding) in running.items()]
    return found + still


def _opened(record: Record, client: Client, finding: Finding, day: date, first: date) -> date:
    return opened_on(record, client, finding, day) if day == first else day
