"""The estimated one-repetition maximum by seven published formulas, as their authors gave them.

Epley 1985; Brzycki 1993 (JOPERD 64: 88-90); Lander 1985; Lombardi 1989; Mayhew, Ball, Arnold and Bowen 1992; O'Conner,
Simmons and O'Shea 1989; Wathen 1994. The gate - 2 to 10 reps, one rep is the load itself - is our own; "no more than 10
repetitions should be used in linear equations": Reynolds, Gordon and Robergs, JSCR 2006; 20(3): 584-592.
"""

from __future__ import annotations

import numpy as np
import pytest

from analytics.strength import FORMULAS, e1rm_kg

FORMULA_NAMES = ["epley", "brzycki", "lander", "lombardi", "mayhew", "oconner", "wathen"]
# Of 100 kg, by reps.
GRID = {
    1: (103.3333, 100.0000, 101.3903, 100.0000, 108.8640, 102.5000, 101.3042),
    2: (106.6667, 102.8571, 104.2128, 107.1773, 111.4387, 105.0000, 105.1457),
    3: (110.0000, 105.8824, 107.1969, 111.6123, 113.9903, 107.5000, 108.9797),
    5: (116.6667, 112.5000, 113.7089, 117.4619, 119.0107, 112.5000, 116.5825),
    6: (120.0000, 116.1290, 117.2709, 119.6231, 121.4729, 115.0000, 120.3306),
    8: (126.6667, 124.1379, 125.1092, 123.1144, 126.2863, 120.0000, 127.6714),
    10: (133.3333, 133.3333, 134.0704, 125.8925, 130.9343, 125.0000, 134.7467),
    12: (140.0000, 144.0000, 144.4143, 128.2089, 135.3985, 130.0000, 141.4959),
    15: (150.0000, 163.6364, 163.3145, 131.1019, 141.7192, 137.5000, 150.9063),
    20: (166.6667, 211.7647, 208.8755, 134.9283, 151.1778, 150.0000, 164.4618),
}
# Of 80 kg for 5 reps.
EIGHTY_FOR_FIVE = (93.333, 90.000, 90.967, 93.970, 95.209, 90.000, 93.266)


def ungated(formula: str, load_kg: float, reps: int) -> float:
    return float(FORMULAS[formula](np.array([load_kg]), np.array([float(reps)]))[0])


def gated(formula: str, load_kg: float, reps: int) -> float:
    return float(e1rm_kg(np.array([round(load_kg * 1000)]), np.array([reps]), formula)[0])


def test_there_are_seven_formulas():
    assert list(FORMULAS) == FORMULA_NAMES


@pytest.mark.parametrize("reps", GRID)
def test_each_formula_gives_its_value_for_a_hundred_kilograms(reps: int):
    for formula, expected in zip(FORMULA_NAMES, GRID[reps], strict=True):
        assert ungated(formula, 100, reps) == pytest.approx(expected, abs=5e-5), formula


def test_each_formula_gives_its_value_for_eighty_kilograms_and_five_reps():
    for formula, expected in zip(FORMULA_NAMES, EIGHTY_FOR_FIVE, strict=True):
        assert ungated(formula, 80, 5) == pytest.approx(expected, abs=5e-4), formula


def test_epley_and_brzycki_agree_at_ten_reps():
    assert ungated("epley", 60, 10) == pytest.approx(80)
    assert ungated("brzycki", 60, 10) == pytest.approx(80)


def test_oconner_and_brzycki_agree_at_five_reps():
    assert ungated("oconner", 80, 5) == pytest.approx(ungated("brzycki", 80, 5))


def test_brzycki_and_lombardi_give_the_load_itself_for_one_rep():
    assert ungated("brzycki", 80, 1) == pytest.approx(80)
    assert ungated("lombardi", 80, 1) == pytest.approx(80)


@pytest.mark.parametrize("formula", FORMULA_NAMES)
def test_every_formula_is_in_proportion_to_the_load(formula: str):
    assert ungated(formula, 50, 7) * 2 == pytest.approx(ungated(formula, 100, 7))


@pytest.mark.parametrize("formula", FORMULA_NAMES)
def test_one_rep_is_the_load_itself(formula: str):
    assert gated(formula, 82.5, 1) == 82.5


@pytest.mark.parametrize("formula", FORMULA_NAMES)
def test_two_to_ten_reps_are_estimated_and_more_are_not(formula: str):
    for reps in range(2, 11):
        assert gated(formula, 80, reps) == pytest.approx(ungated(formula, 80, reps))
    for reps in (0, 11, 12, 20, 37, 50):
        assert np.isnan(gated(formula, 80, reps))
