"""What was found in a span of days, also what is over by its end."""

from __future__ import annotations

import pytest

from analytics.assessment import assess
from analytics.episodes import find_episodes
from analytics.findings_schema import Kind
from analytics.span_figures import Spans
from tests.analytics.frames import assessed, day_of, weekly, weekly_logs
from tests.analytics.invented import invented_record
from tests.analytics.spans import span

SEEDS = range(4)


def episodes(logs, first: str, last: str, plan=None) -> list[dict]:
    assessment = assessed(plan or weekly(*["3x8@20"] * 6), logs, on="2026-03-01")
    return find_episodes(assessment.rules, span(assessment, first, last)).records()


def test_a_stall_that_was_over_within_the_span_is_told_with_both_its_days():
    logs = weekly_logs("6@20 6@20 6@20", "6@20 6@20 6@20", "6@20 6@20 6@20", "8@20 8@20 8@20", "8@20", "")

    stalls = [one for one in episodes(logs, "2026-01-20", "2026-01-31") if one["kind"] == Kind.STALL]

    (told,) = stalls
    assert told["opened_day"] == day_of("2026-01-12")
    assert told["ended_day"] == day_of("2026-01-26")


def test_what_still_holds_on_the_last_day_has_no_end():
    logs = weekly_logs("6@20 6@20 6@20", "6@20 6@20 6@20", "", "", "", "")

    told = [one for one in episodes(logs, "2026-01-10", "2026-01-14") if one["kind"] == Kind.STALL]

    assert [(one["opened_day"], one["ended_day"]) for one in told] == [(day_of("2026-01-12"), -1)]


@pytest.mark.parametrize("seed", SEEDS)
def test_what_holds_on_the_last_day_is_what_is_found_as_at_it(seed):
    assessment = assess(invented_record(seed))
    as_of = assessment.history.record.clients["as_of_day"]

    told = find_episodes(assessment.rules, Spans(as_of - 40, as_of))
    still = told.rows(told["ended_day"] < 0)

    for name in ("client_row", "kind", "urgency", "opened_day", "row", "count"):
        assert sorted(still[name].tolist()) == sorted(assessment.findings[name].tolist()), name


def test_more_days_than_are_asked_at_once_make_no_break():
    logs = weekly_logs("6@20 6@20 6@20", "6@20 6@20 6@20")

    told = [one for one in episodes(logs, "2026-01-05", "2026-02-20") if one["kind"] == Kind.STALL]

    assert len(told) == 1
