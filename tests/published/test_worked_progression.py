"""A worked case of our own: 20 kg in four weeks that each change one variable, then the next load.

Its last step is of 10 %, the most that is advised at once: 2 to 10 % when one or two reps over the goal are done
(Ratamess and others, Progression Models in Resistance Training for Healthy Adults, American College of Sports Medicine,
Medicine & Science in Sports & Exercise 2009; 41(3): 687-708).
"""

from __future__ import annotations

import pytest

from analytics.planned_figures import planned_exercise_figures, planned_session_figures
from tests.analytics.frames import asked, record, session

# Sets, reps and load, rest -> volume load, seconds without the warm-up, kg a minute.
STAGES = [
    ("3x8@20", 75, 480, 222, 129.73),
    ("4x8@20", 75, 640, 321, 119.63),
    ("4x10@20", 75, 800, 345, 139.13),
    ("4x10@20", 50, 800, 270, 177.78),
    ("3x8@22", 75, 528, 222, 142.70),
]
WARM_UP_SECONDS = 300


def planned(text: str, rest_s: int):
    plan = record([session(1, "2026-01-05", asked(text, rest_s=rest_s))], on="2026-01-05")
    exercises = planned_exercise_figures(plan)
    return exercises.to_frame().iloc[0], planned_session_figures(plan, exercises).to_frame().iloc[0]


@pytest.mark.parametrize(("text", "rest_s", "tonnage_kg", "seconds", "density"), STAGES)
def test_tonnage_time_and_density_of_each_stage(text: str, rest_s: int, tonnage_kg: int, seconds: int, density: float):
    exercise, of_session = planned(text, rest_s)

    assert exercise["tonnage_g"] == tonnage_kg * 1000
    assert exercise["work_s"] + exercise["rest_s"] == seconds
    assert of_session["minutes"] * 60 == pytest.approx(seconds + WARM_UP_SECONDS)
    assert exercise["tonnage_g"] / 1000 / (seconds / 60) == pytest.approx(density, abs=0.005)


def test_tonnage_falls_by_a_third_at_a_load_step_that_is_progress():
    before, after = planned(*STAGES[3][:2])[0], planned(*STAGES[4][:2])[0]

    assert after["tonnage_g"] / before["tonnage_g"] - 1 == pytest.approx(-0.34)


def test_density_falls_when_a_set_is_added_and_rises_most_when_rest_is_cut():
    densities = [density for *_, density in STAGES]
    told = [
        exercise["tonnage_g"] / 1000 / ((exercise["work_s"] + exercise["rest_s"]) / 60)
        for exercise, _ in (planned(text, rest_s) for text, rest_s, *_ in STAGES)
    ]

    assert told[1] < told[0]
    assert max(range(5), key=told.__getitem__) == 3
    assert told == pytest.approx(densities, abs=0.005)


def test_the_load_step_is_of_ten_per_cent():
    first, stepped = planned(*STAGES[0][:2])[0], planned(*STAGES[4][:2])[0]

    assert stepped["tonnage_g"] * 100 == first["tonnage_g"] * 110
