"""The drawings hold the numbers of the facts, and are small, valid and without a colour of their own."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

import pytest
from plotly import graph_objects

from coaching.monitoring.chart_span import Span
from coaching.monitoring.figures import density_figure, staircase_figure, tonnage_figure
from coaching.monitoring.staircases import Dot, DotKind, Staircase
from coaching.monitoring.week_points import WeekPoint

MONDAY = date(2026, 4, 13)
SPAN = Span.of_weeks(12, MONDAY)
BEFORE = MONDAY - timedelta(weeks=1)


def a_dot(day: date, kind: DotKind, value: float, **more: Any) -> Dot:
    plain = {"performed_on": day, "asked": "4 × 10 at 20 kg", "done": "10-10-9-8 × 20 kg", "verdict": "met"}
    return Dot(suggested_on=day, kind=kind, value=value, e1rm=None, **{**plain, **more})


def a_staircase(dots: list[Dot], steps: list[tuple[date, float | None]] | None = None) -> Staircase:
    return Staircase(
        exercise_id=1,
        name="Goblet squat",
        unit="kg",
        steps=steps or [(BEFORE, 18.0), (MONDAY, 20.0), (MONDAY + timedelta(days=6), 20.0)],
        dots=dots,
        latest="20 kg",
        e1rm="",
    )


POINTS = [
    WeekPoint(BEFORE, attended=3, due=3, tonnage=800.0, asked=800.0, dose=1.0, minutes=80.0, density=0.96),
    WeekPoint(MONDAY, attended=1, due=3, tonnage=None, asked=900.0, dose=0.0),
]


@pytest.fixture(params=["staircase", "tonnage", "density"])
def figure(request: pytest.FixtureRequest) -> dict[str, Any]:
    dots = [a_dot(MONDAY, kind, 20.0) for kind in DotKind]
    made = {
        "staircase": lambda: staircase_figure(a_staircase(dots), SPAN),
        "tonnage": lambda: tonnage_figure(POINTS, SPAN, "kg"),
        "density": lambda: density_figure(POINTS, SPAN),
    }
    return made[request.param]()


def strings_in(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        yield from (text for one in value.values() for text in strings_in(one))
    elif isinstance(value, list | tuple):
        yield from (text for one in value for text in strings_in(one))


def test_every_figure_is_one_that_the_library_accepts(figure: dict[str, Any]) -> None:
    accepted = graph_objects.Figure(figure)

    assert len(accepted.data) == len(figure["data"])


def test_every_figure_is_small_and_brings_no_template(figure: dict[str, Any]) -> None:
    assert "template" not in figure["layout"]
    assert len(json.dumps(figure)) < 4000


def test_colours_are_the_pages_own(figure: dict[str, Any]) -> None:
    colours = [text for text in strings_in(figure) if re.match(r"#[0-9a-f]{3,8}$|rgba?\(|var\(", text)]

    assert colours
    assert {colour for colour in colours if not colour.startswith("var(--")} <= {"rgba(0,0,0,0)"}


def test_all_figures_share_one_time_axis() -> None:
    figures = [
        staircase_figure(a_staircase([a_dot(MONDAY, DotKind.MET, 20.0)]), SPAN),
        tonnage_figure(POINTS, SPAN, "kg"),
        density_figure(POINTS, SPAN),
    ]

    axes = [figure["layout"]["xaxis"] for figure in figures]

    assert axes[0] == axes[1] == axes[2]
    assert len({figure["layout"]["margin"]["l"] for figure in figures}) == 1


def test_a_staircase_is_the_steps_and_a_trace_for_each_kind_of_dot() -> None:
    dots = [a_dot(BEFORE, DotKind.MET, 18.0), a_dot(MONDAY, DotKind.LIGHTER, 18.0)]

    line, met, lighter = staircase_figure(a_staircase(dots), SPAN)["data"]

    assert list(zip(line["x"], line["y"], strict=True)) == [
        ("2026-04-06", 18.0),
        ("2026-04-13", 20.0),
        ("2026-04-19", 20.0),
    ]
    assert line["line"]["shape"] == "hv"
    assert (met["marker"]["symbol"], met["x"], met["y"]) == ("circle", ["2026-04-06"], [18.0])
    assert (lighter["marker"]["symbol"], lighter["x"], lighter["y"]) == ("circle-open", ["2026-04-13"], [18.0])


def test_kinds_of_dots_are_told_apart_by_shape_or_place() -> None:
    figure = staircase_figure(a_staircase([a_dot(MONDAY, kind, 20.0) for kind in DotKind]), SPAN)

    symbols = [trace["marker"]["symbol"] for trace in figure["data"][1:]]

    # Short and lighter are both open; the lighter one lies below the line.
    assert symbols == ["circle", "circle-open", "circle-open", "circle-open-dot", "x-thin-open"]


def test_a_dot_says_what_it_stands_for_and_brings_no_markup() -> None:
    late = a_dot(BEFORE, DotKind.MET, 18.0, performed_on=MONDAY, done="8 × <b>18</b> kg")

    text = staircase_figure(a_staircase([late]), SPAN)["data"][1]["text"][0]

    assert text == "Mon 6 Apr, done Mon 13 Apr: 8 × &lt;b&gt;18&lt;/b&gt; kg<br>4 × 10 at 20 kg<br>met"


def test_tick_labels_of_close_loads_do_not_touch() -> None:
    steps = [(MONDAY, load) for load in (10.0, 10.5, 11.0, 11.5, 20.0)]

    axis = staircase_figure(a_staircase([], steps), SPAN)["layout"]["yaxis"]

    assert axis["tickvals"] == [10.0, 20.0]


def test_a_staircase_of_a_single_load_has_room_around_it() -> None:
    low, high = staircase_figure(a_staircase([], [(MONDAY, 20.0)]), SPAN)["layout"]["yaxis"]["range"]

    assert low < 20.0 < high


def test_tonnage_is_lifted_and_asked_week_by_week_with_the_share_done() -> None:
    lifted, asked, shares = tonnage_figure(POINTS, SPAN, "kg")["data"]

    assert lifted["x"] == asked["x"] == ["2026-04-09 12:00", "2026-04-16 12:00"]
    assert list(lifted["y"]) == [800.0, None]
    assert list(asked["y"]) == [800.0, 900.0]
    assert list(shares["text"]) == ["100", "0"]
    assert list(shares["y"]) == [800.0, 900.0]


def test_shares_are_left_to_the_table_where_bars_are_thin() -> None:
    points = [WeekPoint(MONDAY - timedelta(weeks=week), dose=1.0) for week in range(52)]

    assert len(tonnage_figure(points, Span.of_weeks(52, MONDAY), "kg")["data"]) == 2


def test_density_is_per_cent_of_the_plan_with_gaps_where_it_is_unknown() -> None:
    figure = density_figure(POINTS, SPAN)

    assert list(figure["data"][0]["y"]) == [96.0, None]
    assert [(shape["y0"], shape["y1"]) for shape in figure["layout"]["shapes"]] == [(100, 100)]


def test_density_far_from_the_plan_stays_in_the_picture() -> None:
    figure = density_figure([WeekPoint(MONDAY, density=2.4)], SPAN)

    low, high = figure["layout"]["yaxis"]["range"]
    assert low == 0
    assert high > 240
