"""Weeks of ISO 8601: they begin on Monday and belong to the year of their Thursday. 2026 has a week 53."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from analytics.iso_weeks import iso_week
from analytics.training_weeks import to_date, to_day, week_start_day

WEEK_DATES = {
    "1985-04-12": "1985-W15-5",
    "1996-12-30": "1997-W01-1",
    "1999-12-27": "1999-W52-1",
    "2000-01-02": "1999-W52-7",
    "2005-01-01": "2004-W53-6",
    "2005-01-02": "2004-W53-7",
    "2006-01-01": "2005-W52-7",
    "2006-12-31": "2006-W52-7",
    "2007-12-31": "2008-W01-1",
    "2008-12-28": "2008-W52-7",
    "2008-12-29": "2009-W01-1",
    "2009-12-31": "2009-W53-4",
    "2010-01-03": "2009-W53-7",
    "2010-01-04": "2010-W01-1",
    "2012-12-31": "2013-W01-1",
    "2014-12-29": "2015-W01-1",
    "2015-12-31": "2015-W53-4",
    "2016-01-03": "2015-W53-7",
    "2019-12-30": "2020-W01-1",
    "2020-12-31": "2020-W53-4",
    "2021-01-01": "2020-W53-5",
    "2021-01-03": "2020-W53-7",
    "2021-01-04": "2021-W01-1",
    "2024-12-30": "2025-W01-1",
    "2026-12-28": "2026-W53-1",
    "2026-12-31": "2026-W53-4",
    "2027-01-03": "2026-W53-7",
    "2027-01-04": "2027-W01-1",
}
YEARS_OF_53_WEEKS = [2004, 2009, 2015, 2020, 2026, 2032, 2037]


@pytest.mark.parametrize(("day", "week_date"), WEEK_DATES.items())
def test_a_day_lies_in_its_iso_week_and_the_week_begins_on_its_monday(day: str, week_date: str):
    week, _, weekday = week_date.rpartition("-")
    on = date.fromisoformat(day)

    monday = to_date(week_start_day(np.array([to_day(on)]))[0])

    assert iso_week(on) == week
    assert on - monday == timedelta(days=int(weekday) - 1)


def test_years_of_fifty_three_weeks():
    assert [year for year in range(2004, 2038) if iso_week(date(year, 12, 28)).endswith("W53")] == YEARS_OF_53_WEEKS


@given(st.dates(date(1900, 1, 1), date(2200, 12, 31)))
def test_a_week_begins_on_the_monday_on_or_before_a_day(day: date):
    monday = to_date(week_start_day(np.array([to_day(day)]))[0])

    assert monday.weekday() == 0
    assert timedelta(0) <= day - monday < timedelta(days=7)
