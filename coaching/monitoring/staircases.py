"""The staircase of an exercise: what load was asked week by week, and what was lifted on it.

Where no load is asked (body weight, a band) the steps are the repetitions of all sets together. Every exposure
stands on the day that was suggested for it, so that one that met what was asked lies on the line; its words tell
the day it was done.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import Enum
from typing import NamedTuple

from analytics.flag_thresholds import Thresholds
from coaching.monitoring.chart_span import Span
from coaching.monitoring.e1rm_words import best_lately
from coaching.monitoring.load_words import in_unit, load_text, sets_text
from coaching.monitoring.models import ExposureFact
from roster.blocks.models import Measure, PlannedExercise, Slot
from roster.mass import LoadKind
from roster.people.models import Client

# Without a session planned for so long, the line of what was asked is broken.
LONGEST_STEP = timedelta(days=21)


class DotKind(Enum):
    """How an exposure is drawn; the value is what the legend says."""

    MET = "met"
    SHORT = "short"
    LIGHTER = "step not taken: lighter than asked"
    HEAVIER = "heavier than asked"
    NOT_LOGGED = "not logged"


class Planned(NamedTuple):
    """One planned exercise of a published block."""

    pk: int
    exercise_id: int
    name: str
    slot: str
    suggested_on: date
    sets: int
    reps: int
    set_targets: list[int] | None
    measure: str
    is_each_side: bool
    load_kind: str
    load_g: int | None
    band: str
    implements_used: int
    rest_s: int | None

    @property
    def targets(self) -> list[int]:
        return self.set_targets or [self.reps] * self.sets


@dataclass(frozen=True, slots=True)
class Dot:
    """One exposure."""

    suggested_on: date
    performed_on: date
    value: float
    kind: DotKind
    asked: str
    done: str
    verdict: str
    e1rm: float | None


@dataclass(frozen=True, slots=True)
class Staircase:
    exercise_id: int
    name: str
    # What the steps are measured in: kg, lb, reps, s or m.
    unit: str
    # What was asked from which day on; nothing where the line is broken.
    steps: list[tuple[date, float | None]]
    dots: list[Dot]
    latest: str
    e1rm: str


def read_planned(client: Client, since: date) -> list[Planned]:
    return read_planned_of([client.pk], since, date.max)[client.pk]


def read_planned_of(client_ids: Collection[int], since: date, until: date) -> dict[int, list[Planned]]:
    """By client, in order of time."""
    planned = PlannedExercise.objects.filter(
        session__block__client_id__in=client_ids,
        session__block__published_at__isnull=False,
        session__suggested_on__range=(since, until),
    )
    columns = ("pk", "exercise_id", "exercise__name", "slot", "session__suggested_on", "sets", "reps")
    more = ("set_targets", "measure", "is_each_side", "load_kind", "load_g", "band", "implements_used", "rest_s")
    in_order = planned.order_by("session__suggested_on", "session_id", "position")
    found: dict[int, list[Planned]] = {pk: [] for pk in client_ids}
    for client_id, *row in in_order.values_list("session__block__client_id", *columns, *more):
        found[client_id].append(Planned._make(row))
    return found


def build_staircases(
    planned: Iterable[Planned],
    exposures: Iterable[ExposureFact],
    span: Span,
    *,
    day: date,
    unit: str,
    tolerance: float,
) -> list[Staircase]:
    """By the part of the body and the name; a load within `tolerance` counts as the one asked."""
    by_plan = {exposure.planned_exercise_id: exposure for exposure in exposures}
    courses = sorted(_courses(planned).values(), key=lambda course: (_slot_order(course[0]), course[0].name))
    made = [_staircase(course, by_plan, span, day=day, unit=unit, tolerance=tolerance) for course in courses]
    return [one for one in made if one.steps]


def live_and_over(planned: Iterable[Planned], day: date, thresholds: Thresholds) -> tuple[list[Planned], list[Planned]]:
    """What is planned of exercises that are live at the day, and of those that are no longer planned."""
    since = day - timedelta(days=thresholds.live_days)
    courses = _courses(planned).values()
    live = [one for course in courses if course[-1].suggested_on >= since for one in course]
    return live, [one for course in courses if course[-1].suggested_on < since for one in course]


def _courses(planned: Iterable[Planned]) -> dict[int, list[Planned]]:
    by_exercise: dict[int, list[Planned]] = defaultdict(list)
    for one in planned:
        by_exercise[one.exercise_id].append(one)
    return by_exercise


def _slot_order(planned: Planned) -> int:
    return Slot.values.index(planned.slot)


def _staircase(
    course: Sequence[Planned],
    by_plan: Mapping[int, ExposureFact],
    span: Span,
    *,
    day: date,
    unit: str,
    tolerance: float,
) -> Staircase:
    last = course[-1]
    shown = [planned for planned in course if span.first <= planned.suggested_on <= span.last]
    by_load = any(planned.load_kind == LoadKind.MASS for planned in shown)
    met = [(planned, by_plan[planned.pk]) for planned in shown if planned.pk in by_plan]
    latest = shown[-1] if shown else last
    has_e1rm = by_load and latest.measure == Measure.REPS
    return Staircase(
        exercise_id=last.exercise_id,
        name=last.name,
        unit=unit if by_load else _measure_unit(last.measure),
        steps=_steps(shown, by_load, unit, span),
        dots=[_dot(planned, exposure, by_load, unit, tolerance) for planned, exposure in met],
        latest=load_text(latest.load_kind, latest.load_g, latest.band, unit),
        e1rm=best_lately([exposure for _, exposure in met], day=day, unit=unit) if has_e1rm else "",
    )


def _measure_unit(measure: str) -> str:
    return "reps" if measure == Measure.REPS else measure


def _asked_value(planned: Planned, by_load: bool, unit: str) -> float:
    if by_load:
        return in_unit(planned.load_g or 0, unit)
    return float(sum(planned.targets))


def _steps(shown: Sequence[Planned], by_load: bool, unit: str, span: Span) -> list[tuple[date, float | None]]:
    """Only where what is asked changes, where the line is broken, and at its end."""
    steps: list[tuple[date, float | None]] = []
    before: Planned | None = None
    value = 0.0
    for planned in shown:
        asked = _asked_value(planned, by_load, unit)
        if before and planned.suggested_on - before.suggested_on > LONGEST_STEP:
            ended_on = before.suggested_on + timedelta(days=6)
            steps += [(ended_on, value), (ended_on, None)]
            before = None
        if before is None or asked != value:
            steps.append((planned.suggested_on, asked))
        before, value = planned, asked
    if before:
        steps.append((min(before.suggested_on + timedelta(days=6), span.last), value))
    return steps


def _dot(planned: Planned, exposure: ExposureFact, by_load: bool, unit: str, tolerance: float) -> Dot:
    kind, value = _kind_and_value(planned, exposure, by_load, unit, tolerance)
    done_load = f" × {in_unit(exposure.top_load_g, unit):g} {unit}" if exposure.top_load_g is not None else ""
    return Dot(
        suggested_on=planned.suggested_on,
        performed_on=exposure.performed_on,
        value=value,
        kind=kind,
        asked=_asked_text(planned, unit),
        done=f"{exposure.reps_done}{done_load}" if exposure.working_sets else "nothing",
        verdict=ExposureFact.Reason(exposure.reason).label,
        e1rm=None if exposure.best_e1rm_kg is None else in_unit(round(1000 * exposure.best_e1rm_kg), unit),
    )


def _asked_text(planned: Planned, unit: str) -> str:
    """Such as "4 × 10 at 18 kg, rest 65 s", "3 × 8 each side at 2 × 12 kg", "3 × 12, band green"."""
    sets = sets_text(planned.targets, planned.measure, planned.is_each_side)
    load = load_text(planned.load_kind, planned.load_g, planned.band, unit)
    count = "2 × " if planned.implements_used == 2 else ""
    joined = f"{sets} at {count}{load}" if planned.load_kind == LoadKind.MASS else f"{sets}, {load}"
    return joined if planned.rest_s is None else f"{joined}, rest {planned.rest_s} s"


def _kind_and_value(
    planned: Planned, exposure: ExposureFact, by_load: bool, unit: str, tolerance: float
) -> tuple[DotKind, float]:
    asked = _asked_value(planned, by_load, unit)
    if not exposure.working_sets:
        return DotKind.NOT_LOGGED, asked
    met_or_short = DotKind.MET if exposure.met else DotKind.SHORT
    if not by_load:
        return met_or_short, float(_sum_of(exposure.reps_done))
    lifted = exposure.top_load_g
    if lifted is not None and planned.load_g and lifted > (1 + tolerance) * planned.load_g:
        return DotKind.HEAVIER, in_unit(lifted, unit)
    if lifted is not None and planned.load_g and lifted < (1 - tolerance) * planned.load_g:
        return DotKind.LIGHTER, in_unit(lifted, unit)
    return met_or_short, asked


def _sum_of(reps_done: str) -> int:
    return sum(int(reps) for reps in reps_done.split("-") if reps.isdigit())
