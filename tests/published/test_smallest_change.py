"""The smallest change of a one-repetition maximum that is more than its measurement error: 11.64 %.

Grgic J, Lazinica B, Schoenfeld BJ, Pedisic Z. Test-Retest Reliability of the One-Repetition Maximum (1RM) Strength
Assessment: a Systematic Review. Sports Medicine - Open 2020; 6: 31: median coefficient of variation 4.2 %. Times the
square root of two, for two measurements, and 1.96.
"""

from __future__ import annotations

import pytest

from analytics.period_change import TEST_RETEST_CV, smallest_change_worth_believing


def test_the_coefficient_of_variation_is_the_published_median():
    assert TEST_RETEST_CV == 0.042


def test_a_change_is_worth_believing_from_11_64_per_cent_on():
    assert 100 * smallest_change_worth_believing() == pytest.approx(11.64, abs=0.005)
