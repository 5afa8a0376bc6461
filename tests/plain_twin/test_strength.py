from __future__ import annotations

from fractions import Fraction

import pytest

from tests.plain_twin.strength import FORMULAS, e1rm_kg

# 100 kg, computed from the formulas' published coefficients.
AT_100_KG = {
    "epley": {2: 106.6667, 5: 116.6667, 10: 133.3333},
    "brzycki": {2: 102.8571, 5: 112.5, 10: 133.3333},
    "lander": {2: 104.2128, 5: 113.7089, 10: 134.0704},
    "lombardi": {2: 107.1773, 5: 117.4619, 10: 125.8925},
    "mayhew": {2: 111.4387, 5: 119.0107, 10: 130.9343},
    "oconner": {2: 105.0, 5: 112.5, 10: 125.0},
    "wathen": {2: 105.1457, 5: 116.5825, 10: 134.7467},
}


@pytest.mark.parametrize("formula", FORMULAS)
def test_each_formula_at_one_hundred_kilograms(formula):
    for reps, expected in AT_100_KG[formula].items():
        assert float(FORMULAS[formula](Fraction(100), reps)) == pytest.approx(expected, abs=5e-5)


def test_epley_and_brzycki_meet_at_ten_reps():
    assert e1rm_kg(Fraction(100), 10, "epley") == e1rm_kg(Fraction(100), 10, "brzycki")


def test_one_rep_is_the_load_itself_and_above_ten_there_is_none():
    assert [e1rm_kg(Fraction(100), reps) for reps in (0, 1, 11)] == [None, 100, None]
