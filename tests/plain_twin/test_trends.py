from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

import pytest

from tests.plain_twin.client_day import ClientDay
from tests.plain_twin.small_files import asked, done, look
from tests.plain_twin.trends import trend


def weeks_of(*sets_done: int, minutes: str = "", sets: int = 10) -> ClientDay:
    """Ten sets of 8 at 20 kg asked for every Monday; so many done, as at the Sunday after."""
    plan = [asked(sets=sets, week=str(week)) for week in range(1, len(sets_done) + 1)]
    logs = []
    for week, count in enumerate(sets_done, start=1):
        day = date(2026, 1, 5) + timedelta(weeks=week - 1)
        if count:
            logs.append(done(day.isoformat(), "8@20 " * count, names=f"{week} A", minutes=minutes))
    return look(plan, *logs, on=(date(2026, 1, 4) + timedelta(weeks=len(sets_done))).isoformat())


def test_four_weeks_are_too_little_to_tell():
    found = trend(weeks_of(10, 9, 8, 7), "completion", 12)

    assert (found.level, found.verdict) == (Fraction(34, 40), "too little to tell")


def test_a_steady_fall_is_named_with_its_slope_a_week():
    found = trend(weeks_of(10, 9, 8, 7, 6, 5), "completion", 12)

    assert found.verdict == "falling"
    assert found.slope == pytest.approx(-0.1)


def test_an_interval_that_holds_zero_is_steady_or_unclear():
    assert trend(weeks_of(9, 10, 9, 10, 9, 10), "completion", 12).verdict == "steady or unclear"


def test_the_last_due_weeks_alone_count():
    assert trend(weeks_of(0, 0, 10, 10, 10, 10), "completion", 4).level == 1


def test_dose_counts_a_missed_week_as_none_done():
    assert trend(weeks_of(10, 0), "dose", 12).level == Fraction(1, 2)


def test_density_against_plan_is_one_when_done_as_planned_in_the_planned_minutes():
    # 10 x 8 reps of 3 s and 9 rests of 75 s are 915 s; with five minutes of warm-up 20.25 min.
    as_planned = trend(weeks_of(10, minutes="20.25"), "density_against_plan", 4)
    in_twice_the_time = trend(weeks_of(10, minutes="40.5"), "density_against_plan", 4)

    assert (as_planned.level, in_twice_the_time.level) == (1, Fraction(1, 2))


def test_density_against_plan_is_empty_without_minutes():
    assert trend(weeks_of(10), "density_against_plan", 4).level is None
