from __future__ import annotations

from random import Random

import pytest
from scipy.stats import theilslopes

from tests.plain_twin import theil_sen


def test_cloud_seeding_slope():
    """Hollander and Wolfe, cloud-seeding rainfall ratios (data from memory); interval at 95 %."""
    points = list(zip(range(1, 6), [1.26, 1.27, 1.12, 1.16, 1.03], strict=True))

    assert theil_sen.slope(points) == pytest.approx(-0.05625)
    assert theil_sen.interval(points, 0.95) == pytest.approx((-0.15, 0.04))


def test_slope_and_interval_agree_with_scipy_with_ties_and_gaps():
    random = Random(5)
    for _ in range(200):
        weeks = sorted(random.sample(range(30), random.randint(5, 12)))
        points = [(week, random.choice([0.5, 0.75, 0.8, 1.0, random.random()])) for week in weeks]

        expected = theilslopes([y for _, y in points], [x for x, _ in points], alpha=0.90)

        assert theil_sen.slope(points) == pytest.approx(expected.slope)
        assert theil_sen.interval(points) == pytest.approx((expected.low_slope, expected.high_slope))
