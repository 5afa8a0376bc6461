"""Days as numbers and weeks; the ISO table stands in tests/published/test_iso_weeks.py."""

from __future__ import annotations

from datetime import date

import numpy as np

from analytics.iso_weeks import iso_week
from analytics.training_weeks import to_date, to_day, week_start_day


def test_days_count_from_the_first_of_january_1970():
    assert to_day(date(1970, 1, 1)) == 0
    assert to_date(-1) == date(1969, 12, 31)
    assert to_date(np.int64(to_day(date(2026, 4, 15)))) == date(2026, 4, 15)


def test_a_week_begins_on_monday():
    week = [to_day(date(2026, 4, day)) for day in range(13, 20)]

    assert week_start_day(np.array(week)).tolist() == [week[0]] * 7
    assert week_start_day(np.array([week[0] - 1])).tolist() == [week[0] - 7]


def test_weeks_are_written_with_two_digits():
    assert iso_week(date(2026, 1, 5)) == "2026-W02"
