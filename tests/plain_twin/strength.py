"""Estimated one-repetition maximum by seven published formulas: Epley 1985, Brzycki 1993, Lander 1985,
Lombardi 1989, Mayhew and others 1992, O'Conner and others 1989, Wathen 1994. Load w, r reps.
"""

from __future__ import annotations

from fractions import Fraction
from math import exp

FORMULAS = {
    "epley": lambda w, r: w * (1 + Fraction(r, 30)),
    "brzycki": lambda w, r: w * Fraction(36, 37 - r),
    "lander": lambda w, r: 100 * w / (Fraction("101.3") - Fraction("2.67123") * r),
    "lombardi": lambda w, r: w * r**0.10,
    "mayhew": lambda w, r: 100 * w / (52.2 + 41.9 * exp(-0.055 * r)),
    "oconner": lambda w, r: w * (1 + Fraction(25, 1000) * r),
    "wathen": lambda w, r: 100 * w / (48.8 + 53.8 * exp(-0.075 * r)),
}


def e1rm_kg(load_kg: Fraction, reps: int, formula: str = "epley") -> Fraction | float | None:
    """One rep is the load itself; above ten reps there is no estimate."""
    if reps < 1 or reps > 10:
        return None
    if reps == 1:
        return load_kg
    return FORMULAS[formula](load_kg, reps)
