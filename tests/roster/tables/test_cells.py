"""Single cells: what they mean, and why they can't be taken."""

from __future__ import annotations

from contextlib import suppress
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roster.tables.cells import (
    CellRefused,
    decimal_number,
    decimal_of,
    one_of,
    required,
    text,
    whole_number,
    yes_or_no,
)


@pytest.mark.parametrize(
    ("cell", "number"),
    [("8", "8"), ("2.5", "2.5"), ("2,5", "2.5"), (".5", "0.5"), ("0,25", "0.25"), ("1,000", "1"), ("007", "7")],
)
def test_a_number_has_at_most_one_decimal_comma_or_point(cell: str, number: str):
    assert decimal_of(cell) == Decimal(number)


@pytest.mark.parametrize(
    "cell", ["1,234.5", "1.234,5", "1 000", "1e3", "inf", "nan", "+5", "8 kg", "5.", "٣", "５", "½", "0x10", "1_0"]
)
def test_anything_else_is_no_number(cell: str):
    with pytest.raises(CellRefused, match="is no number"):
        decimal_of(cell)


@pytest.mark.parametrize("cell", ["-1", "-0,5", "−2"])
def test_a_negative_number_is_below_zero(cell: str):
    with pytest.raises(CellRefused, match="is below zero"):
        decimal_of(cell)


@given(st.decimals(min_value=0, max_value=10**9, allow_nan=False, places=4), st.sampled_from(".,"))
def test_every_plain_number_is_read_exactly(number: Decimal, mark: str):
    assert decimal_of(f"{number:f}".replace(".", mark)) == number


@given(st.text(max_size=20))
def test_any_text_is_a_number_or_is_refused(cell: str):
    with suppress(CellRefused):
        number = decimal_of(cell)

        assert (number is None) == (cell == "")
        assert number is None or number >= 0


@pytest.mark.parametrize(("cell", "number"), [("3", 3), ("3.0", 3), ("3,00", 3), ("", None)])
def test_a_whole_number_may_be_written_with_an_empty_fraction(cell: str, number: int | None):
    assert whole_number(1, 5)(cell) == number


@pytest.mark.parametrize(
    ("cell", "reason"),
    [("0", "is less than 1"), ("6", "is more than 5"), ("2.5", "is no whole number"), ("x", "is no number")],
)
def test_a_whole_number_out_of_its_range_is_refused(cell: str, reason: str):
    with pytest.raises(CellRefused, match=reason):
        whole_number(1, 5)(cell)


def test_a_decimal_is_rounded_to_its_places_and_halves_go_up():
    assert decimal_number(0, 10, 2)("7,125") == Decimal("7.13")


def test_a_decimal_that_must_be_more_than_the_least_is_so_after_rounding():
    with pytest.raises(CellRefused, match="is not more than 0"):
        decimal_number(0, 10, 2, more_than_least=True)("0.004")


@pytest.mark.parametrize(
    ("cell", "meant"), [("yes", True), ("YES", True), ("1", True), ("no", False), ("0", False), ("", None)]
)
def test_yes_and_no_are_words_or_digits(cell: str, meant: bool | None):
    assert yes_or_no(cell) is meant


@pytest.mark.parametrize("cell", ["true", "y", "2", "x"])
def test_no_other_word_means_yes_or_no(cell: str):
    with pytest.raises(CellRefused, match="is none of yes, 1, no, 0"):
        yes_or_no(cell)


def test_a_choice_is_made_without_regard_to_case():
    assert one_of({"kg": "kg", "lb": "lb"})("LB") == "lb"


def test_an_empty_cell_is_refused_where_one_is_required():
    with pytest.raises(CellRefused, match="is empty"):
        required(text(10))("")


def test_text_longer_than_its_place_is_refused():
    with pytest.raises(CellRefused, match="is longer than 3 characters"):
        text(3)("abcd")


def test_text_whose_folded_form_has_no_room_is_refused():
    with pytest.raises(CellRefused, match="is longer than 3 characters"):
        text(3)("ΐΐΐ")


def test_a_date_cell_is_no_text_since_a_spreadsheet_may_have_made_it_of_reps():
    with pytest.raises(CellRefused, match="is a date cell"):
        text(10)(date(2008, 10, 12))
