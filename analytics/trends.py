"""Which way is somebody going? Completion, dose and density against the plan, over the last 4 and 12 due weeks.

The level is a ratio of sums over the weeks; the slope a week is Theil-Sen's (Theil 1950, Sen 1968), the median of all
slopes between two weeks, with its 90 % interval. Fewer than five weeks with a value: too little to tell. An interval
that holds zero: steady or unclear. Tonnage has no trend: it falls at every correct load step.
"""

from __future__ import annotations

from enum import StrEnum

import numpy as np
import pandas as pd
from scipy import stats

from analytics.training_weeks import DAYS_IN_WEEK
from analytics.week_figures import ratio

WINDOWS_WEEKS = (4, 12)
FEWEST_WEEKS = 5
CONFIDENCE = 0.90


class Verdict(StrEnum):
    TOO_LITTLE = "too little to tell"
    UNCLEAR = "steady or unclear"
    RISING = "rising"
    FALLING = "falling"


def week_ratios(weeks: pd.DataFrame) -> pd.DataFrame:
    """completion, dose and density (each done / asked) of every row of `weeks`; NaN where nothing was asked or timed.

    `weeks` has the sums of `week_figures`: counted_sets, planned_sets, dosed_g, planned_g, timed_g, timed_minutes,
    timed_planned_g, timed_planned_minutes.
    """
    lifted = ratio(weeks["timed_g"].to_numpy(), weeks["timed_minutes"].to_numpy())
    asked = ratio(weeks["timed_planned_g"].to_numpy(), weeks["timed_planned_minutes"].to_numpy())
    return pd.DataFrame(
        {
            "completion": ratio(weeks["counted_sets"].to_numpy(), weeks["planned_sets"].to_numpy()),
            "dose": ratio(weeks["dosed_g"].to_numpy(), weeks["planned_g"].to_numpy()),
            "density": ratio(lifted, np.nan_to_num(asked)),
        },
        index=weeks.index,
    )


def find_trends(weeks: pd.DataFrame) -> pd.DataFrame:
    """One row for each figure and window: figure, window_weeks, level, trend, trend_low, trend_high, verdict.

    `weeks` are the rows of one client, with week_start_day and due beside the sums. Completion of 0.9, 0.8, 0.7, 0.6
    and 0.5 in five weeks is a trend of -0.1 a week, FALLING.
    """
    due_weeks = weeks[weeks["due"] > 0].sort_values("week_start_day")
    rows = []
    for window_weeks in WINDOWS_WEEKS:
        recent = due_weeks.tail(window_weeks)
        values = week_ratios(recent)
        levels = week_ratios(recent.sum(numeric_only=True).to_frame().T)
        number = recent["week_start_day"].to_numpy() // DAYS_IN_WEEK
        for figure in values.columns:
            slope = _slope(number, values[figure].to_numpy())
            rows.append((figure, window_weeks, levels[figure].iloc[0], *slope))
    return pd.DataFrame(
        rows, columns=["figure", "window_weeks", "level", "trend", "trend_low", "trend_high", "verdict"]
    )


def _slope(week_number: np.ndarray, values: np.ndarray) -> tuple[float, float, float, Verdict]:
    is_known = ~np.isnan(values)
    if is_known.sum() < FEWEST_WEEKS:
        return np.nan, np.nan, np.nan, Verdict.TOO_LITTLE
    slope, _, low, high = stats.theilslopes(values[is_known], week_number[is_known], alpha=CONFIDENCE)
    if low <= 0 <= high:
        return slope, low, high, Verdict.UNCLEAR
    return slope, low, high, Verdict.RISING if low > 0 else Verdict.FALLING
