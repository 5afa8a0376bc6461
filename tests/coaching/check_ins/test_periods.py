"""Which days a pack is about, and what it is held against."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coaching.check_ins.content import Period
from coaching.check_ins.periods import (
    BlockDays,
    PeriodRefused,
    block_period,
    check_period,
    days_period,
    month_before,
    month_period,
    period_before,
)

TODAY = date(2026, 4, 15)
FOURTH = BlockDays("Block 4", date(2026, 1, 5), date(2026, 2, 8))
FIFTH = BlockDays("Block 5", date(2026, 2, 9), date(2026, 3, 8))


def test_a_month_stands_beside_the_month_before_also_across_a_year():
    assert month_before(date(2026, 1, 20)) == month_period(2025, 12)
    assert period_before(month_period(2026, 3), [FOURTH, FIFTH]) == month_period(2026, 2)
    assert period_before(month_period(2026, 1), []) == month_period(2025, 12)


def test_february_of_a_leap_year_has_twenty_nine_days():
    assert month_period(2028, 2).last == date(2028, 2, 29)


def test_a_block_stands_beside_the_client_s_block_before():
    assert period_before(block_period(FIFTH), [FIFTH, FOURTH]) == block_period(FOURTH)


def test_somebody_s_first_block_has_nothing_before():
    assert period_before(block_period(FOURTH), [FOURTH, FIFTH]) is None


def test_any_days_stand_beside_as_many_days_before_them():
    before = period_before(days_period(date(2026, 3, 3), date(2026, 3, 17)), [])

    assert before == Period(date(2026, 2, 16), date(2026, 3, 2), "16 February to 2 March 2026")


def test_the_days_of_a_whole_month_are_that_month():
    assert days_period(date(2026, 3, 1), date(2026, 3, 31)) == month_period(2026, 3)


@pytest.mark.parametrize(
    ("first", "last", "title"),
    [
        ((2026, 3, 3), (2026, 3, 17), "3 to 17 March 2026"),
        ((2026, 3, 28), (2026, 4, 3), "28 March to 3 April 2026"),
        ((2026, 12, 28), (2027, 1, 3), "28 December 2026 to 3 January 2027"),
        ((2026, 3, 3), (2026, 3, 3), "3 March 2026"),
    ],
)
def test_days_are_told_as_people_write_them(first, last, title):
    assert days_period(date(*first), date(*last)).title == title


@given(st.dates(date(2001, 1, 1), date(2030, 1, 1)), st.integers(0, 365))
def test_the_days_before_end_on_the_day_before_and_whole_months_aside_are_as_many(first, days):
    period = days_period(first, first + timedelta(days=days))

    before = period_before(period, [])

    assert before.last == period.first - timedelta(days=1)
    if period != month_period(first.year, first.month):
        assert before.last - before.first == period.last - period.first


@pytest.mark.parametrize(
    ("period", "why"),
    [
        (Period(date(2026, 3, 2), date(2026, 3, 1), ""), "ends on 1 March 2026, before it begins"),
        (Period(date(2025, 1, 1), date(2026, 1, 2), ""), "366 days at most; this one has 367"),
        (Period(date(1999, 12, 31), date(2000, 1, 5), ""), "begins on 1 January 2000 at the earliest"),
        (month_period(2026, 5), "May 2026 begins on 1 May 2026, which is still to come"),
    ],
)
def test_what_is_no_period_is_refused_with_the_reason(period, why):
    with pytest.raises(PeriodRefused, match=why):
        check_period(period, TODAY)


@pytest.mark.parametrize("days", [1, 366])
def test_from_one_day_to_366_is_a_period(days):
    period = Period(TODAY - timedelta(days=days - 1), TODAY, "")

    assert check_period(period, TODAY) is period


@pytest.mark.parametrize(("year", "month"), [(2026, 0), (2026, 13), (0, 1), (10_000, 1)])
def test_no_such_month_is_refused(year, month):
    with pytest.raises(PeriodRefused):
        month_period(year, month)
