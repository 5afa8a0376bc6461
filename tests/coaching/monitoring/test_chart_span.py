from __future__ import annotations

from datetime import date

import pytest

from coaching.monitoring.chart_span import MOST_DAYS, MOST_MONTHS, Span


def test_a_span_ends_with_the_week_of_the_day() -> None:
    span = Span.of_weeks(12, date(2026, 4, 15))

    assert (span.first, span.last) == (date(2026, 1, 26), date(2026, 4, 19))
    assert len(span.weeks) == 12
    assert span.weeks[-1] == date(2026, 4, 13)


def test_a_quarter_is_told_by_the_days_of_its_mondays() -> None:
    ticks = Span.of_weeks(12, date(2026, 4, 15)).ticks()

    assert ticks[:2] == [(date(2026, 1, 26), "26 Jan"), (date(2026, 2, 16), "16 Feb")]
    assert len(ticks) == MOST_DAYS


def test_a_half_year_is_told_by_its_months_and_names_the_year_that_begins() -> None:
    ticks = Span.of_weeks(26, date(2026, 4, 15)).ticks()

    assert [name for _, name in ticks] == ["Nov", "Dec", "2026", "Feb", "Mar", "Apr"]
    assert ticks[0][0] == date(2025, 11, 1)


def test_a_month_that_begins_with_the_span_is_named() -> None:
    span = Span.of_weeks(14, date(2026, 8, 31))

    assert (span.first, span.ticks()[0]) == (date(2026, 6, 1), (date(2026, 6, 1), "Jun"))


@pytest.mark.parametrize("weeks", [8, 13, 14, 26, 52, 104, 300])
def test_names_are_thinned_out_where_there_are_many(weeks: int) -> None:
    ticks = Span.of_weeks(weeks, date(2026, 4, 15)).ticks()

    assert 1 <= len(ticks) <= MOST_MONTHS
