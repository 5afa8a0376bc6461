"""Two periods beside each other, by the textbook: Wilson's interval from its quadratic, Newcombe's of the difference,
Welch's of two means.
"""

from __future__ import annotations

from math import sqrt
from statistics import NormalDist, fmean, variance

from scipy import stats

Z = NormalDist().inv_cdf(0.975)


def wilson(attended: int, due: int) -> tuple[float, float]:
    """The two shares p from which the one seen is just z standard errors away: (x/n - p)^2 = z^2 p (1 - p) / n."""
    if due == 0:
        return 0.0, 1.0
    a, b, c = due + Z**2, -(2 * attended + Z**2), attended**2 / due
    root = sqrt(max(b * b - 4 * a * c, 0.0))
    return (-b - root) / (2 * a), (-b + root) / (2 * a)


def newcombe(now: tuple[int, int], before: tuple[int, int]) -> tuple[float, float, float]:
    (low_now, high_now), (low_before, high_before) = wilson(*now), wilson(*before)
    p_now, p_before = now[0] / now[1], before[0] / before[1]
    below = sqrt((p_now - low_now) ** 2 + (high_before - p_before) ** 2)
    above = sqrt((high_now - p_now) ** 2 + (p_before - low_before) ** 2)
    return p_now - p_before, p_now - p_before - below, p_now - p_before + above


def welch(now: list[float], before: list[float]) -> tuple[float, float, float]:
    """Both with three values or more, and some spread."""
    a, b = variance(now) / len(now), variance(before) / len(before)
    freedom = (a + b) ** 2 / (a**2 / (len(now) - 1) + b**2 / (len(before) - 1))
    half = float(stats.t.ppf(0.975, freedom)) * sqrt(a + b)
    difference = fmean(now) - fmean(before)
    return difference, difference - half, difference + half
