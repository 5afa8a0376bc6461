"""What a planned session asks for, in kilograms and minutes."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from analytics.frame_schema import Measure
from analytics.planned_figures import planned_exercise_figures, planned_session_figures
from tests.analytics.frames import PRESS, ROW, SQUAT, Asked, asked, record, session

WARM_UP_MINUTES = 5


def exercise(work: Asked) -> pd.Series:
    return planned_exercise_figures(record([session(1, "2026-01-05", work)], on="2026-01-05")).to_frame().iloc[0]


def minutes(*work: Asked) -> float:
    plan = record([session(1, "2026-01-05", *work)], on="2026-01-05")
    return planned_session_figures(plan, planned_exercise_figures(plan))["minutes"][0]


def test_tonnage_time_at_work_and_rests_of_one_exercise():
    """3 x 8 at 20 kg with 75 s: 480 kg, 72 s of work, two rests."""
    figures = exercise(asked("3x8@20", rest_s=75))

    assert figures[["total_reps", "tonnage_g", "work_s", "rest_s"]].tolist() == [24, 480_000, 72, 150]


def test_a_target_for_each_set_is_summed():
    assert exercise(asked("12-10-8@20"))["total_reps"] == 30


@pytest.mark.parametrize(
    ("work", "seconds"),
    [
        (asked("2x10@20"), 60),
        (asked("2x10@20", sides=2), 120),
        (asked("2x10@20", implements=2), 60),
        (asked("2x10@20", tempo_s=5), 100),
        (asked("2x30", measure=Measure.SECONDS), 60),
        (asked("2x30", measure=Measure.SECONDS, sides=2), 120),
        (asked("2x20@16", measure=Measure.METRES), 40),
    ],
)
def test_seconds_of_work(work: Asked, seconds: int):
    """3 s a rep unless a tempo says so, sides counted, a second is a second, a metre counted as one."""
    assert exercise(work)["work_s"] == seconds


def test_body_weight_asks_for_no_tonnage():
    assert exercise(asked("3x8"))["tonnage_g"] == 0


def test_two_implements_on_both_sides_are_four_times_the_load():
    assert exercise(asked("1x10@20", implements=2, sides=2))["tonnage_g"] == 800_000


def test_a_session_takes_a_warm_up_the_work_the_rests_and_a_minute_a_change_of_exercise():
    one, other = asked("3x8@20", SQUAT, rest_s=75), asked("3x10@10", PRESS, rest_s=60)

    assert minutes(one) == pytest.approx(WARM_UP_MINUTES + 222 / 60)
    assert minutes(one, other) == pytest.approx(WARM_UP_MINUTES + 222 / 60 + 1 + 210 / 60)
    assert minutes(one, other, asked("1x10", ROW)) == pytest.approx(WARM_UP_MINUTES + 222 / 60 + 2 + 210 / 60 + 0.5)


def test_the_same_exercise_again_is_no_change_of_exercise():
    heavy, light = asked("1x10@20", SQUAT), asked("1x10@16", SQUAT)

    assert minutes(heavy, light) == pytest.approx(WARM_UP_MINUTES + 1)
    assert minutes(heavy, asked("1x10@8", PRESS), light) == pytest.approx(WARM_UP_MINUTES + 1.5 + 2)


def test_a_rest_that_nobody_prescribed_leaves_the_minutes_unknown():
    assert np.isnan(minutes(asked("3x8@20", rest_s=np.nan)))


def test_a_single_set_needs_no_rest():
    assert minutes(asked("1x10@20", rest_s=np.nan)) == pytest.approx(WARM_UP_MINUTES + 0.5)


def test_density_is_planned_tonnage_over_planned_minutes_and_unknown_without_a_load():
    plan = record([session(1, "2026-01-05", asked("3x8@20")), session(2, "2026-01-05", asked("3x8"))], on="2026-01-05")

    density = planned_session_figures(plan, planned_exercise_figures(plan))["density_kg_min"]

    assert density[0] == pytest.approx(480 / 8.7)
    assert np.isnan(density[1])
