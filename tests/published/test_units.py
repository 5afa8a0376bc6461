"""Pounds and kilograms: 1 lb = 0.45359237 kg exactly.

International yard and pound agreement, 1959; NIST Special Publication 811, appendix B.
"""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roster.mass import GRAMS_PER_POUND, from_grams, to_grams

# Exact multiples of the definition.
KILOGRAMS_OF_POUNDS = {
    "1": "0.45359237",
    "2.5": "1.133980925",
    "5": "2.26796185",
    "10": "4.5359237",
    "45": "20.41165665",
    "55": "24.94758035",
    "100": "45.359237",
    "225": "102.05828325",
}
# To nine decimals.
POUNDS_OF_KILOGRAMS = {
    "0.5": "1.102311311",
    "1.25": "2.755778277",
    "2.5": "5.511556555",
    "5": "11.023113109",
    "20": "44.092452437",
    "32": "70.547923899",
    "100": "220.462262185",
}


@pytest.mark.parametrize(("pounds", "kilograms"), KILOGRAMS_OF_POUNDS.items())
def test_a_pound_is_its_definition_and_is_rounded_once_to_grams(pounds: str, kilograms: str):
    exact_grams = Decimal(pounds) * GRAMS_PER_POUND

    assert exact_grams == Decimal(kilograms) * 1000
    assert abs(to_grams(Decimal(pounds), "lb") - exact_grams) <= Decimal("0.5")


@pytest.mark.parametrize(("kilograms", "pounds"), POUNDS_OF_KILOGRAMS.items())
def test_kilograms_are_shown_in_pounds(kilograms: str, pounds: str):
    grams = to_grams(Decimal(kilograms), "kg")

    assert grams == Decimal(kilograms) * 1000
    assert round(from_grams(grams, "lb"), 9) == Decimal(pounds)


@given(st.decimals(min_value=0, max_value=1000, places=2))
def test_a_load_in_kilograms_of_up_to_three_decimals_loses_nothing(kilograms: Decimal):
    assert from_grams(to_grams(kilograms, "kg"), "kg") == kilograms


@given(st.decimals(min_value=0, max_value=1000, places=1), st.decimals(min_value=0, max_value=1000, places=1))
def test_a_heavier_load_is_never_fewer_grams(lighter: Decimal, heavier: Decimal):
    lighter, heavier = sorted((lighter, heavier))

    assert to_grams(lighter, "lb") <= to_grams(heavier, "lb")
