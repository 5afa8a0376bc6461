"""Which way somebody is going: levels over the last due weeks, slopes a week with their interval."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from analytics.trends import Verdict, find_trends, week_ratios

SUMS = ["counted_sets", "planned_sets", "dosed_g", "planned_g", "timed_g", "timed_minutes", "timed_planned_g",
        "timed_planned_minutes"]
MONDAY = 4


def weeks_of(*completions: float | None, planned_sets: int = 100, due: int = 3) -> pd.DataFrame:
    """Weeks in a row by the share of planned sets; None: nothing was due."""
    frame = pd.DataFrame({name: np.zeros(len(completions)) for name in SUMS})
    frame["week_start_day"] = [MONDAY + 7 * week for week in range(len(completions))]
    frame["due"] = [0 if share is None else due for share in completions]
    frame["planned_sets"] = [0 if share is None else planned_sets for share in completions]
    frame["counted_sets"] = [round((share or 0) * planned_sets) for share in completions]
    return frame


def trend(weeks: pd.DataFrame, figure: str = "completion", window: int = 12) -> pd.Series:
    found = find_trends(weeks)
    return found[(found["figure"] == figure) & (found["window_weeks"] == window)].iloc[0]


def test_there_is_a_row_for_each_figure_and_window():
    told = find_trends(weeks_of(0.9))

    assert told[["window_weeks", "figure"]].to_numpy().tolist() == [
        [window, figure] for window in (4, 12) for figure in ("completion", "dose", "density")
    ]


def test_a_falling_completion():
    """0.9, 0.8, 0.7, 0.6, 0.5: a tenth less each week."""
    told = trend(weeks_of(0.9, 0.8, 0.7, 0.6, 0.5))

    assert told["level"] == pytest.approx(0.7)
    assert told[["trend", "trend_low", "trend_high"]].tolist() == pytest.approx([-0.1, -0.1, -0.1])
    assert told["verdict"] == Verdict.FALLING


def test_the_interval_by_hand():
    """Ten slopes: -.4 -.3 -.267 -.25 -.225 -.2 -.2 -.167 -.1 -.1; for 90 % of five weeks the second and the ninth."""
    told = trend(weeks_of(1.0, 0.9, 0.6, 0.5, 0.1))

    assert told[["trend", "trend_low", "trend_high"]].tolist() == pytest.approx([-0.2125, -0.3, -0.1])


@pytest.mark.parametrize(
    ("shares", "verdict"),
    [
        ([0.5, 0.6, 0.7, 0.8], Verdict.TOO_LITTLE),
        ([0.5, 0.6, 0.7, 0.8, 0.9], Verdict.RISING),
        ([0.9, 0.5, 0.9, 0.5, 0.9], Verdict.UNCLEAR),
        ([0.8, 0.8, 0.8, 0.8, 0.8], Verdict.UNCLEAR),
    ],
)
def test_too_little_rising_and_unclear(shares: list[float], verdict: Verdict):
    assert trend(weeks_of(*shares))["verdict"] == verdict


def test_four_weeks_have_a_level_and_too_little_for_a_slope():
    told = trend(weeks_of(*[0.9] * 8, 0.5, 0.5, 0.7, 0.7), window=4)

    assert told["level"] == pytest.approx(0.6)
    assert told["verdict"] == Verdict.TOO_LITTLE
    assert np.isnan(told["trend"])


def test_the_level_is_a_ratio_of_sums():
    weeks = pd.concat([weeks_of(1.0, planned_sets=10), weeks_of(0.5, planned_sets=30)], ignore_index=True)

    assert trend(weeks)["level"] == pytest.approx(25 / 40)


def test_only_the_last_twelve_due_weeks_are_looked_at():
    assert trend(weeks_of(0.1, *[0.9] * 12))["level"] == pytest.approx(0.9)
    assert trend(weeks_of(0.1, *[0.9] * 11, None))["level"] == pytest.approx((0.1 + 11 * 0.9) / 12)


def test_weeks_without_anything_due_part_the_others_by_their_time():
    """Five weeks of a falling tenth, with two weeks of holiday between: the slope is by the calendar."""
    told = trend(weeks_of(0.9, 0.8, None, None, 0.7, 0.6, 0.5))

    points = [(0, 0.9), (1, 0.8), (4, 0.7), (5, 0.6), (6, 0.5)]
    slopes = [(b - a) / (y - x) for x, a in points for y, b in points if y > x]
    assert told["trend"] == pytest.approx(np.median(slopes))


def test_weeks_in_any_order_give_the_same_answer():
    weeks = weeks_of(0.9, 0.7, 0.8, 0.6, 0.4, 0.5)

    assert find_trends(weeks.iloc[::-1]).equals(find_trends(weeks))


def test_density_is_lifted_a_minute_over_asked_a_minute():
    weeks = weeks_of(1.0)
    weeks[["timed_g", "timed_minutes", "timed_planned_g", "timed_planned_minutes"]] = [[600_000.0, 30, 500_000, 20]]

    assert week_ratios(weeks)["density"].tolist() == [pytest.approx((600 / 30) / (500 / 20))]


def test_what_was_not_asked_or_not_timed_is_unknown():
    assert week_ratios(weeks_of(None)).isna().all(axis=None)
    assert week_ratios(weeks_of(1.0))[["dose", "density"]].isna().all(axis=None)


def test_no_weeks_are_too_little():
    told = find_trends(weeks_of())

    assert set(told["verdict"]) == {Verdict.TOO_LITTLE}
    assert told[["level", "trend"]].isna().all(axis=None)


@given(st.lists(st.integers(0, 100), min_size=5, max_size=12))
def test_slope_and_interval_are_those_of_the_textbook_estimator(counted: list[int]):
    told = trend(weeks_of(*(count / 100 for count in counted)))

    slope, _, low, high = stats.theilslopes(np.array(counted) / 100, alpha=0.90)
    assert told[["trend", "trend_low", "trend_high"]].tolist() == pytest.approx([slope, low, high])
