"""The estimated one-repetition maximum in words, with the formula that made it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from analytics.formula_range import DEFAULT_FORMULA, FEWEST_FORMULA_REPS, MOST_FORMULA_REPS
from coaching.monitoring.load_words import in_unit
from coaching.monitoring.models import ExposureFact

RECENT = timedelta(days=27)
BEYOND = "beyond the formula's range"


def formula_name() -> str:
    return DEFAULT_FORMULA.capitalize()


def e1rm_explained() -> str:
    """For whoever does not know the word."""
    return f"e1RM: the load that could be lifted once, as {formula_name()}’s formula estimates it from the set."


def formula_rule() -> str:
    """What the figure rests on, for whom asks."""
    return (
        f"{formula_name()}, from sets of {FEWEST_FORMULA_REPS} to {MOST_FORMULA_REPS} reps (one rep is the load "
        "itself), for each implement; a single change of less than about 10 % is within measurement error"
    )


def best_lately(exposures: Iterable[ExposureFact], *, day: date, unit: str) -> str:
    """The best of the last four weeks; nothing when nothing was lifted in them."""
    lifted = [one for one in exposures if one.top_load_g is not None and one.performed_on >= day - RECENT]
    if not lifted:
        return ""
    estimates = [one.best_e1rm_kg for one in lifted if one.best_e1rm_kg is not None]
    if not estimates:
        return BEYOND
    return f"{in_unit(round(1000 * max(estimates)), unit):.1f} {unit}, {formula_name()}"
