from __future__ import annotations

from datetime import date

import pytest

from coaching.desk import days
from coaching.desk.evidence import UNKNOWN
from coaching.desk.templatetags.desk_words import ago, counted, kilograms, percent

TODAY = date(2026, 4, 15)


@pytest.mark.parametrize(
    ("grams", "text"),
    [(18_000, "18"), (10_500, "10.5"), (1_284_000, "1,284"), (20_412, "20.412"), (0, "0"), (100, "0.1")],
)
def test_kilograms_have_decimals_only_where_there_are_any(grams: int, text: str) -> None:
    assert kilograms(grams) == text


def test_unknown_is_a_dash_and_never_zero() -> None:
    assert kilograms(None) == percent(None) == ago(None, TODAY) == UNKNOWN
    assert (kilograms(0), percent(0.0)) == ("0", "0 %")


@pytest.mark.parametrize(
    ("day", "text"),
    [(date(2026, 4, 15), "today"), (date(2026, 4, 14), "yesterday"), (date(2026, 4, 6), "9 days ago")],
)
def test_days_are_counted_back_in_words(day: date, text: str) -> None:
    assert ago(day, TODAY) == text


def test_one_is_one_and_two_are_several() -> None:
    assert (counted(1, "person,people"), counted(2, "person,people"), counted(0, "client")) == (
        "1 person",
        "2 people",
        "0 clients",
    )


def test_a_long_list_of_names_is_cut() -> None:
    assert days.listed(["Bo", "Yara", "Ann"], at_most=2) == "Bo, Yara and 1 more"
    assert days.listed(["Bo", "Yara"], at_most=2) == "Bo, Yara"
