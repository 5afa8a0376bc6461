from __future__ import annotations

from datetime import date

import pytest

from coaching.monitoring.chart_span import MOST_TICKS, Span


def test_a_span_ends_with_the_week_of_the_day() -> None:
    span = Span.of_weeks(12, date(2026, 4, 15))

    assert (span.first, span.last) == (date(2026, 1, 26), date(2026, 4, 19))
    assert len(span.weeks) == 12
    assert span.weeks[-1] == date(2026, 4, 13)


def test_months_are_named_where_they_begin() -> None:
    span = Span.of_weeks(12, date(2026, 4, 15))

    assert span.months() == [date(2026, 2, 1), date(2026, 3, 1), date(2026, 4, 1)]


def test_a_month_that_begins_with_the_span_is_named() -> None:
    assert Span(date(2026, 6, 1), date(2026, 6, 28)).months() == [date(2026, 6, 1)]


def test_a_span_within_a_month_names_none() -> None:
    assert Span(date(2026, 6, 8), date(2026, 6, 28)).months() == []


@pytest.mark.parametrize("weeks", [8, 26, 52, 104, 300])
def test_months_are_thinned_out_where_there_are_many(weeks: int) -> None:
    months = Span.of_weeks(weeks, date(2026, 4, 15)).months()

    assert 1 <= len(months) <= MOST_TICKS
