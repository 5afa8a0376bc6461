"""The Theil-Sen slope: the median of all slopes between two points (Theil 1950, Sen 1968).

The cloud-seeding data of Hollander and Wolfe, Nonparametric Statistical Methods, are quoted from memory; an independent
computation of their slope, -0.05625, agrees.
"""

from __future__ import annotations

from itertools import combinations
from statistics import median

import pandas as pd
import pytest

from analytics.trends import find_trends

CLOUD_SEEDING = [1.26, 1.27, 1.12, 1.16, 1.03]
OTHER_SUMS = ["dosed_g", "planned_g", "timed_g", "timed_minutes", "timed_planned_g", "timed_planned_minutes"]


def completion_trend(values: list[float]) -> pd.Series:
    """The trend over weeks whose share of planned sets is as given."""
    count = len(values)
    weeks = pd.DataFrame({
        "week_start_day": [4 + 7 * week for week in range(count)],
        "due": [3] * count,
        "counted_sets": [round(value * 10_000) for value in values],
        "planned_sets": [10_000] * count,
        **dict.fromkeys(OTHER_SUMS, [0] * count),
    })
    trends = find_trends(weeks)
    return trends[(trends["figure"] == "completion") & (trends["window_weeks"] == 12)].iloc[0]


def test_the_slope_of_the_cloud_seeding_data():
    trend = completion_trend(CLOUD_SEEDING)

    assert trend["trend"] == pytest.approx(-0.05625)


def test_the_slope_is_the_median_of_all_slopes_between_two_points():
    points = list(enumerate(CLOUD_SEEDING))
    slopes = [(later - earlier) / (to - start) for (start, earlier), (to, later) in combinations(points, 2)]

    assert completion_trend(CLOUD_SEEDING)["trend"] == pytest.approx(median(slopes))
