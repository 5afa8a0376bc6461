"""How strong is somebody on this exercise? The estimated one-repetition maximum (e1RM), by seven published formulas.

The formulas are as their authors gave them and are not gated; the gate is ours: from 2 to 10 reps a formula is used,
1 rep is the load itself, above 10 reps there is none ("beyond the formula's range": Reynolds, Gordon and Robergs 2006
advise no more than ten). The load is each implement's. A single change below about 10 % is within measurement error
(Grgic 2020: median test-retest CV of the 1RM 4.2 %, so a smallest change worth believing of 11.64 %).
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from analytics.formula_range import DEFAULT_FORMULA as DEFAULT_FORMULA
from analytics.formula_range import FEWEST_FORMULA_REPS as FEWEST_FORMULA_REPS
from analytics.formula_range import MOST_FORMULA_REPS as MOST_FORMULA_REPS
from analytics.sorted_keys import Floats, Ints


def epley(load_kg: Floats, reps: Floats) -> Floats:
    """Epley 1985."""
    return load_kg * (1 + reps / 30)


def brzycki(load_kg: Floats, reps: Floats) -> Floats:
    """Brzycki 1993; has no value at 37 reps."""
    return load_kg * 36 / (37 - reps)


def lander(load_kg: Floats, reps: Floats) -> Floats:
    """Lander 1985."""
    return 100 * load_kg / (101.3 - 2.67123 * reps)


def lombardi(load_kg: Floats, reps: Floats) -> Floats:
    """Lombardi 1989."""
    return load_kg * reps**0.10


def mayhew(load_kg: Floats, reps: Floats) -> Floats:
    """Mayhew, Ball, Arnold and Bowen 1992."""
    return 100 * load_kg / (52.2 + 41.9 * np.exp(-0.055 * reps))


def oconner(load_kg: Floats, reps: Floats) -> Floats:
    """O'Conner, Simmons and O'Shea 1989."""
    return load_kg * (1 + 0.025 * reps)


def wathen(load_kg: Floats, reps: Floats) -> Floats:
    """Wathen 1994."""
    return 100 * load_kg / (48.8 + 53.8 * np.exp(-0.075 * reps))


FORMULAS: dict[str, Callable[[Floats, Floats], Floats]] = {
    "epley": epley,
    "brzycki": brzycki,
    "lander": lander,
    "lombardi": lombardi,
    "mayhew": mayhew,
    "oconner": oconner,
    "wathen": wathen,
}


def e1rm_kg(load_g: Ints, reps: Ints, formula: str = DEFAULT_FORMULA) -> Floats:
    """The e1RM of each set in kg; NaN without a mass (a load below zero) or beyond the formula's range.

    >>> e1rm_kg(np.array([20000, 20000, 20000]), np.array([10, 1, 11])).round(3).tolist()
    [26.667, 20.0, nan]
    """
    load_kg: NDArray[np.float64] = load_g / 1000
    estimate = FORMULAS[formula](load_kg, np.minimum(reps, MOST_FORMULA_REPS).astype(np.float64))
    is_in_range = (reps >= 1) & (reps <= MOST_FORMULA_REPS) & (load_g >= 0)
    return np.where(is_in_range, np.where(reps < FEWEST_FORMULA_REPS, load_kg, estimate), np.nan)
