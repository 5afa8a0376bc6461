"""The e1RM of sets; the formulas themselves stand in tests/published/test_one_repetition_maximum.py."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from analytics.strength import DEFAULT_FORMULA, FORMULAS, e1rm_kg

LOADS = st.integers(0, 400_000)


def test_epley_is_used_unless_another_is_asked_for():
    sets = np.array([20_000]), np.array([10])

    assert DEFAULT_FORMULA == "epley"
    assert e1rm_kg(*sets).tolist() == e1rm_kg(*sets, "epley").tolist() != e1rm_kg(*sets, "lombardi").tolist()


@given(st.lists(st.tuples(LOADS, st.integers(0, 60)), max_size=8), st.sampled_from(list(FORMULAS)))
def test_every_set_has_an_estimate_between_one_and_ten_reps_and_none_otherwise(
    sets: list[tuple[int, int]], formula: str
):
    loads, reps = np.array(sets, dtype=np.int64).reshape(-1, 2).T

    estimates = e1rm_kg(loads, reps, formula)

    assert np.isfinite(estimates).tolist() == [1 <= count <= 10 for _, count in sets]
    assert (estimates[np.isfinite(estimates)] >= 0).all()


@given(LOADS, st.integers(1, 10), st.sampled_from(list(FORMULAS)))
def test_more_reps_never_mean_less_strength(load_g: int, reps: int, formula: str):
    estimates = e1rm_kg(np.full(2, load_g), np.array([1, reps]), formula)

    assert estimates[1] >= estimates[0] - 1e-9


@pytest.mark.parametrize("load_code", [-1, -2, -7])
def test_body_weight_and_bands_have_no_estimate(load_code: int):
    assert np.isnan(e1rm_kg(np.array([load_code]), np.array([5]))).all()
