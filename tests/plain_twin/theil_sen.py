"""The Theil-Sen slope, the median of all pairwise slopes, and Sen's interval (1968, equations 1.2 and 2.6)."""

from __future__ import annotations

from collections import Counter
from math import sqrt
from statistics import NormalDist, median

Points = list[tuple[float, float]]


def slope(points: Points) -> float:
    return median(pairwise_slopes(points))


def pairwise_slopes(points: Points) -> list[float]:
    return sorted((y2 - y1) / (x2 - x1) for x1, y1 in points for x2, y2 in points if x2 > x1)


def interval(points: Points, confidence: float = 0.90) -> tuple[float, float]:
    """Ranks of the sorted slopes by the normal approximation, its variance less for tied values."""
    slopes = pairwise_slopes(points)
    z = NormalDist().inv_cdf((1 + confidence) / 2)
    half_width = z * sqrt(_variance(points))
    lowest = max(round((len(slopes) - half_width) / 2) - 1, 0)
    highest = min(round((len(slopes) + half_width) / 2), len(slopes) - 1)
    return slopes[lowest], slopes[highest]


def _variance(points: Points) -> float:
    ties = [*Counter(x for x, _ in points).values(), *Counter(y for _, y in points).values()]
    return (_term(len(points)) - sum(_term(tied) for tied in ties)) / 18


def _term(count: int) -> int:
    return count * (count - 1) * (2 * count + 5)
