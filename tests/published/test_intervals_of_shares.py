"""Intervals of a share, and of the difference of two.

Wilson's score interval: Newcombe RG. Statistics in Medicine 1998; 17: 857-872, Table I, method 3, for 81 of 263, 15 of
148, 0 of 20 and 1 of 29. The others are statsmodels' (`proportion_confint`, method "wilson").
The difference: Newcombe RG. Statistics in Medicine 1998; 17: 873-890, Table II, method 10.
"""

from __future__ import annotations

import pytest

from analytics.period_change import difference_of_shares, wilson_interval

NEWCOMBE_OF_ONE = {
    (81, 263): (0.2553, 0.3662), (15, 148): (0.0624, 0.1605), (0, 20): (0.0000, 0.1611), (1, 29): (0.0061, 0.1718),
}
STATSMODELS = {
    (29, 29): (0.8830, 1.0), (0, 10): (0.0, 0.2775), (2, 3): (0.2077, 0.9385), (3, 3): (0.4385, 1.0),
    (0, 3): (0.0, 0.5615), (9, 12): (0.4677, 0.9111), (10, 12): (0.5520, 0.9530), (12, 12): (0.7575, 1.0),
}
NEWCOMBE_OF_TWO = {
    ((56, 70), (48, 80)): (0.0524, 0.3339), ((9, 10), (3, 10)): (0.1705, 0.8090), ((6, 7), (2, 7)): (0.0582, 0.8062),
    ((5, 56), (0, 29)): (-0.0381, 0.1926), ((0, 10), (0, 20)): (-0.1611, 0.2775), ((0, 10), (0, 10)): (-0.2775, 0.2775),
    ((10, 10), (0, 20)): (0.6791, 1.0), ((10, 10), (0, 10)): (0.6075, 1.0),
}  # fmt: skip


@pytest.mark.parametrize(("counts", "interval"), [*NEWCOMBE_OF_ONE.items(), *STATSMODELS.items()])
def test_wilson_s_interval_of_a_share(counts, interval):
    assert wilson_interval(*counts) == pytest.approx(interval, abs=5e-5)


def test_a_single_week_of_three_sessions_proves_nothing():
    assert wilson_interval(0, 3)[1] == pytest.approx(0.56, abs=0.005)


@pytest.mark.parametrize(("counts", "interval"), NEWCOMBE_OF_TWO.items())
def test_newcombe_s_interval_of_a_difference(counts, interval):
    difference = difference_of_shares(*counts)

    assert (difference.low, difference.high) == pytest.approx(interval, abs=5e-5)
