"""The relative dose intensity: volume load done over volume load prescribed. Ours is called dose.

Fairman CM, Nilsen TS, Newton RU and others. Reporting of Resistance Training Dose, Adherence, and Tolerance in
Exercise Oncology. Medicine & Science in Sports & Exercise 2020; 52(2): 315-322.
Nilsen TS and others. Medicine & Science in Sports & Exercise 2018; 50(6): 1134-1141, Table 2.
The examples of the cap and of the two means are our own.
"""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from analytics.week_figures import ratio
from tests.analytics.frames import asked, assessed, log, session

EXERCISES = (11, 12, 13)


def week_of(planned_kg: list[int], done_kg: list[int]) -> pd.Series:
    """One session that asks for single reps and was answered by single reps, so that tonnage is the load."""
    plan = [session(1, "2026-01-05", *(asked(f"1x1@{kg}", pk) for pk, kg in zip(EXERCISES, planned_kg, strict=True)))]
    sets = {pk: f"1@{kg}" for pk, kg in zip(EXERCISES, done_kg, strict=True)}
    return assessed(plan, [log("2026-01-05", sets, of=1)], on="2026-01-05").weeks.to_frame().iloc[0]


@pytest.mark.parametrize(
    ("done", "prescribed", "per_cent"),
    [
        # Fairman 2020: mean doses of the group, kg; the mean of each person's ratio is 77.4 %.
        (112_835, 139_886, 80.66),
        # Nilsen 2018: MET hours; the mean of each person's ratio is 77 %.
        (153.8, 200.7, 76.63),
    ],
)
def test_a_ratio_of_sums_of_published_doses(done: float, prescribed: float, per_cent: float):
    share = ratio(np.array([done]), np.array([prescribed]))[0]

    assert share * 100 == pytest.approx(per_cent, abs=0.005)


def test_dose_is_a_ratio_of_sums_not_a_mean_of_ratios():
    week = week_of([1200, 480, 1000], [600, 480, 1000])

    mean_of_ratios = (600 / 1200 + 480 / 480 + 1000 / 1000) / 3
    assert mean_of_ratios == pytest.approx(0.8333, abs=1e-4)
    assert week["dose"] == pytest.approx(0.7761, abs=1e-4)


def test_extra_work_in_one_exercise_makes_up_for_none_left_out_in_another():
    week = week_of([480, 640, 800], [960, 320, 800])

    assert week["dose"] == pytest.approx(0.8333, abs=1e-4)


def test_the_uncapped_share_stands_beside_it():
    week = week_of([480, 640, 800], [960, 320, 800])

    assert week["dose_uncapped"] == pytest.approx(1.0833, abs=1e-4)
