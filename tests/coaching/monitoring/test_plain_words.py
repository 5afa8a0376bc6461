"""Figures and days as words."""

from __future__ import annotations

import doctest
from datetime import date

import pytest

from coaching.monitoring import plain_words
from coaching.monitoring.plain_words import count_text, counted, day_text, mass_text, number_text, share_text


def test_the_examples_in_the_docstrings_are_true():
    assert doctest.testmod(plain_words).failed == 0


@pytest.mark.parametrize(("number", "text"), [(7.0, "7"), (22.5, "22.5"), (1 / 3, "0.33"), (100, "100"), (0.0, "0")])
def test_numbers_have_two_decimals_at_most(number: float, text: str):
    assert number_text(number) == text


@pytest.mark.parametrize(
    ("grams", "unit", "text"),
    [(18_000, "kg", "18 kg"), (2_268, "lb", "5 lb"), (20_412, "lb", "45 lb"), (12_500, "kg", "12.5 kg")],
)
def test_a_load_is_told_in_its_unit(grams: int, unit: str, text: str):
    assert mass_text(grams, unit) == text


def test_small_counts_are_words():
    assert [count_text(count) for count in (0, 2, 10, 11)] == ["no", "two", "ten", "11"]


def test_one_is_not_many():
    assert [counted(1, "day"), counted(3, "day"), counted(2, "person", "people")] == ["1 day", "3 days", "2 people"]


def test_a_day_has_its_weekday():
    assert day_text(date(2026, 3, 3)) == "Tue 3 Mar"


@pytest.mark.parametrize(("share", "text"), [(None, ""), (0.0, "0 %"), (2 / 3, "67 %"), (1.0, "100 %")])
def test_an_unknown_share_is_empty_and_never_nothing_at_all(share: float | None, text: str):
    assert share_text(share) == text
