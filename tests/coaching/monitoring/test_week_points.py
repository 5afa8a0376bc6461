from __future__ import annotations

from datetime import date

import pytest

from coaching.monitoring.chart_span import Span
from coaching.monitoring.models import WeekFact
from coaching.monitoring.week_points import WeekPoint, build_week_points, density_against_plan

MONDAY = date(2026, 4, 13)
SPAN = Span.of_weeks(2, MONDAY)


def a_week(**more: object) -> WeekFact:
    """600 of 800 kg in two sessions, one done in part."""
    plain = {
        "week_start": MONDAY,
        "due": 3,
        "done": 1,
        "partial": 1,
        "told": 0,
        "tonnage_kg": 600.0,
        "planned_tonnage_g": 800_000,
        "dose": 0.75,
        "minutes": 50.0,
    }
    return WeekFact(**{**plain, **more})


def test_every_week_of_the_span_has_a_point_and_one_without_facts_is_unknown() -> None:
    points = build_week_points([a_week()], SPAN, "kg")

    assert points[0] == WeekPoint(date(2026, 4, 6))
    assert (points[1].attended, points[1].due, points[1].tonnage, points[1].asked) == (2, 3, 600.0, 800.0)


def test_pounds_are_shown_to_those_who_lift_pounds() -> None:
    point = build_week_points([a_week(tonnage_kg=453.59237)], SPAN, "lb")[1]

    assert point.tonnage == 1000.0
    assert point.asked == pytest.approx(800 / 0.45359237, abs=0.05)


def test_a_week_that_asks_for_no_load_asks_for_nothing_in_kilograms() -> None:
    point = build_week_points([a_week(planned_tonnage_g=0, tonnage_kg=None)], SPAN, "kg")[1]

    assert (point.tonnage, point.asked) == (None, None)


def test_density_against_plan_is_a_ratio_of_sums() -> None:
    week = a_week(timed_tonnage_g=600_000, timed_minutes=30, timed_planned_tonnage_g=800_000, timed_planned_minutes=32)

    assert density_against_plan(week) == pytest.approx((600 / 30) / (800 / 32))


@pytest.mark.parametrize("missing", ["timed_minutes", "timed_planned_minutes", "timed_planned_tonnage_g"])
def test_density_is_unknown_where_a_part_of_it_is(missing: str) -> None:
    parts = {
        "timed_tonnage_g": 1,
        "timed_minutes": 30,
        "timed_planned_tonnage_g": 800_000,
        "timed_planned_minutes": 32,
    }

    assert density_against_plan(a_week(**{**parts, missing: 0})) is None
