"""The best set of each exercise beside the best one before: a row each.

A change of the e1RM is told from 11.64 % on (Grgic 2020); below it the measurement alone may have made it. Of sets
beyond the formula's range, without a load, or counted in seconds no error is known: shown, never judged.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from analytics.formula_range import MOST_FORMULA_REPS
from analytics.period_change import smallest_change_worth_believing
from coaching.check_ins.content import Change, Figure, FigureKey
from coaching.check_ins.spans import BestSet
from coaching.check_ins.words import best_set_text, e1rm_in_unit
from coaching.monitoring.e1rm_words import formula_name
from coaching.monitoring.plain_words import day_text

BestSets = Mapping[int, BestSet]


def best_set_figures(
    now: BestSets, before: BestSets | None, exercises: Sequence[int], names: Mapping[int, str], unit: str
) -> list[Figure]:
    """In the order of `exercises`, those without a set in this period left out; one empty row where there is none."""
    done = [exercise_id for exercise_id in exercises if exercise_id in now]
    if not done:
        return [Figure(FigureKey.BEST_SETS, "Best sets", unit, None, None, "", "", Change.UNKNOWN, "", _MADE)]
    earlier = before or {}
    return [_figure(names[exercise_id], now[exercise_id], earlier.get(exercise_id), unit) for exercise_id in done]


_MADE = (
    f"The set with the highest e1RM, of {MOST_FORMULA_REPS} reps where there are more: those have none of their own. "
    "Without a load the set of the most."
)


def _figure(name: str, now: BestSet, before: BestSet | None, unit: str) -> Figure:
    change, change_text = _change(now, before)
    days = f"On {day_text(now.performed_on)}" + (f", before on {day_text(before.performed_on)}." if before else ".")
    is_judged = f" e1RM by {formula_name()}; told from {100 * smallest_change_worth_believing():.2f} % on."
    return Figure(
        key=FigureKey.BEST_SETS,
        name=f"Best set: {name}",
        unit=unit,
        now=e1rm_in_unit(now, unit),
        before=e1rm_in_unit(before, unit),
        now_text=_text(now, unit),
        before_text=_text(before, unit) if before else "",
        change=change,
        change_text=change_text,
        made=f"{_MADE} {days}{is_judged if now.e1rm_kg is not None else ''}",
    )


def _text(best: BestSet, unit: str) -> str:
    estimate = e1rm_in_unit(best, unit)
    e1rm = "" if estimate is None else f" (e1RM {estimate:.1f} {unit})"
    return best_set_text(best, unit) + e1rm


def _change(now: BestSet, before: BestSet | None) -> tuple[Change, str]:
    if before is None:
        return Change.UNKNOWN, ""
    rise = relative_rise(now, before)
    if rise is None:
        return Change.NOT_JUDGED, ""
    if abs(rise) >= smallest_change_worth_believing():
        return (Change.MORE if rise > 0 else Change.LESS), f"{100 * rise:+.0f} %"
    is_same = (now.load_g, now.reps) == (before.load_g, before.reps)
    change = Change.SAME if is_same else Change.TOO_LITTLE
    return change, change.value


def relative_rise(now: BestSet, before: BestSet | None) -> float | None:
    """Of the e1RM; None where either is unknown."""
    if before is None or now.e1rm_kg is None or not before.e1rm_kg:
        return None
    return now.e1rm_kg / before.e1rm_kg - 1
