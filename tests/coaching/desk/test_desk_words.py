from __future__ import annotations

from datetime import date

import pytest

from coaching.desk import days
from coaching.desk.evidence import UNKNOWN
from coaching.desk.templatetags.desk_words import ago, counted

TODAY = date(2026, 4, 15)


def test_an_unknown_day_is_a_dash() -> None:
    assert ago(None, TODAY) == UNKNOWN


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
