"""The weeks of a story as its charts and their tables show them; none is unknown, never zero."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from coaching.monitoring.chart_span import Span
from coaching.monitoring.load_words import amount
from coaching.monitoring.models import WeekFact


@dataclass(frozen=True, slots=True)
class WeekPoint:
    """One week; tonnages in the client's unit."""

    week_start: date
    attended: int | None = None
    due: int | None = None
    completion: float | None = None
    tonnage: float | None = None
    asked: float | None = None
    dose: float | None = None
    minutes: float | None = None
    # Density of the timed sessions over the density that their stages ask for.
    density: float | None = None


def build_week_points(weeks: Iterable[WeekFact], span: Span, unit: str) -> list[WeekPoint]:
    """One for every week of the span, those without a fact too."""
    facts = {week.week_start: week for week in weeks}
    return [_point(monday, facts.get(monday), unit) for monday in span.weeks]


def _point(monday: date, fact: WeekFact | None, unit: str) -> WeekPoint:
    if fact is None:
        return WeekPoint(monday)
    return WeekPoint(
        week_start=monday,
        attended=fact.done + fact.partial + fact.told,
        due=fact.due,
        completion=fact.completion,
        tonnage=None if fact.tonnage_kg is None else amount(fact.tonnage_kg, unit),
        asked=amount(fact.planned_tonnage_g / 1000, unit) if fact.planned_tonnage_g else None,
        dose=fact.dose,
        minutes=fact.minutes,
        density=density_against_plan(fact),
    )


def density_against_plan(fact: WeekFact) -> float | None:
    """A ratio of sums; unknown without minutes, or without tonnage to compare with."""
    if not (fact.timed_minutes and fact.timed_planned_minutes and fact.timed_planned_tonnage_g):
        return None
    done = fact.timed_tonnage_g / fact.timed_minutes
    return done / (fact.timed_planned_tonnage_g / fact.timed_planned_minutes)
