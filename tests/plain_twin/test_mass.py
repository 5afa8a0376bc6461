from __future__ import annotations

import pytest

from tests.plain_twin.mass import Load, read_load, whole_grams


@pytest.mark.parametrize(
    ("amount", "unit", "grams"),
    [("12.5", "kg", 12500), ("2.5", "lb", 1134), ("45", "lb", 20412), ("100", "lb", 45359), ("0.0005", "kg", 1)],
)
def test_loads_are_whole_grams_rounded_once(amount, unit, grams):
    """1 lb = 453.59237 g exactly (international yard and pound, 1959)."""
    assert whole_grams(amount, unit) == grams


@pytest.mark.parametrize(
    ("text", "load"),
    [("", Load("body")), ("BW", Load("body")), ("Band Green", Load("band", band="green")), ("8", Load("mass", 8000))],
)
def test_a_load_is_a_mass_body_weight_or_a_named_band(text, load):
    assert read_load(text, "kg") == load
