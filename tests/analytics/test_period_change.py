"""Two periods beside each other: shares by their intervals, means by their spread."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from analytics.period_change import difference_of_means, difference_of_shares, wilson_interval
from tests.plain_twin import period_change as twin


@st.composite
def counts(draw) -> tuple[int, int]:
    due = draw(st.integers(1, 60))
    return draw(st.integers(0, due)), due


samples = st.lists(st.floats(0, 1.5).map(lambda value: round(value, 2)), min_size=3, max_size=20)


@given(counts())
def test_wilson_s_interval_equals_the_twin_s_and_holds_the_share(seen):
    low, high = wilson_interval(*seen)

    assert (low, high) == pytest.approx(twin.wilson(*seen), abs=1e-9)
    assert 0 <= low <= seen[0] / seen[1] <= high <= 1


@given(counts(), counts())
def test_newcombe_s_interval_equals_the_twin_s(now, before):
    told = difference_of_shares(now, before)

    assert (told.amount, told.low, told.high) == pytest.approx(twin.newcombe(now, before), abs=1e-9)


@given(counts(), counts())
def test_the_other_way_round_is_the_same_difference_with_the_other_sign(now, before):
    forth, back = difference_of_shares(now, before), difference_of_shares(before, now)

    assert (forth.low, forth.high) == pytest.approx((-back.high, -back.low))


@given(samples, samples)
def test_welch_s_interval_equals_the_twin_s(now, before):
    assume(len({*now}) > 1 and len({*before}) > 1)

    told = difference_of_means(np.array(now), np.array(before))

    assert (told.amount, told.low, told.high) == pytest.approx(twin.welch(now, before), rel=1e-6, abs=1e-9)


def test_a_month_beside_a_month_like_it_is_too_little_to_tell():
    assert not difference_of_shares((11, 12), (8, 12)).is_clear


def test_a_month_that_fell_apart_is_told():
    assert difference_of_shares((2, 12), (12, 12)).high < 0


def test_nothing_due_before_leaves_the_difference_unknown():
    told = difference_of_shares((3, 3), (0, 0))

    assert np.isnan(told.amount)
    assert not told.is_clear


def test_two_sessions_are_too_few_for_a_mean():
    assert not difference_of_means(np.array([1.0, 1.0]), np.array([0.1, 0.1, 0.1])).is_clear


def test_sessions_that_never_vary_differ_by_what_they_differ_by():
    told = difference_of_means(np.array([0.5] * 3), np.array([1.0] * 3))

    assert (told.low, told.high) == (-0.5, -0.5)


def test_unknown_sessions_are_left_out():
    told = difference_of_means(np.array([1.0, np.nan, 1.0, 1.0]), np.array([1.0, 1.0, 1.0]))

    assert told.amount == 0
