"""Common practice, no source: what sessions and kits usually are like."""

from __future__ import annotations

from itertools import pairwise

import pytest

from analytics.planned_figures import planned_exercise_figures, planned_session_figures
from coaching.simulation.kits import HOME_KITS, read_kit
from tests.analytics.frames import PRESS, ROW, SQUAT, asked, record, session

# The usual stages of a block: three sets of eight to four of ten, then with less rest.
STAGES = [("3x8", 75), ("4x8", 75), ("4x10", 75), ("4x10", 50)]
# Kilograms from one load to the next of an implement.
USUAL_STEPS = {"kettlebell": {2, 4}, "dumbbell": {1, 2, 2.5}, "slam ball": {2, 3, 5}}


@pytest.mark.parametrize(("work", "rest_s"), STAGES)
def test_three_exercises_with_warm_up_take_at_most_half_an_hour(work: str, rest_s: int):
    """An upper-body, a lower-body and a full-body exercise; one of them each side."""
    exercises = [asked(f"{work}@{load}", pk, rest_s=rest_s) for pk, load in ((PRESS, 12), (SQUAT, 16))]
    plan = record(
        [session(1, "2026-01-05", *exercises, asked(f"{work}@8", ROW, rest_s=rest_s, sides=2))], on="2026-01-05"
    )

    minutes = planned_session_figures(plan, planned_exercise_figures(plan))["minutes"][0]

    assert 15 < minutes <= 30


@pytest.mark.parametrize("kit", HOME_KITS)
def test_implements_go_up_by_their_usual_steps(kit: str):
    """Kettlebells usually by 4 kg, dumbbells by 2 to 2.5 kg, slam balls by 3 or 5 kg; the lightest by less."""
    for implement, loads in read_kit(kit).loads.items():
        steps = {heavier - lighter for lighter, heavier in pairwise(loads)}

        assert steps <= USUAL_STEPS.get(implement, steps)
