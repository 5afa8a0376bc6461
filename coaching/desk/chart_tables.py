"""What stands around a drawing: its name, its label for those who don't see it, and the same numbers as a table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from coaching.desk.evidence import Table, table_of
from coaching.monitoring.plain_words import day_text, share_text

if TYPE_CHECKING:
    from coaching.monitoring.staircases import Staircase
    from coaching.monitoring.week_points import WeekPoint


@dataclass(frozen=True, slots=True)
class Chart:
    key: str
    name: str
    label: str
    table: Table
    # What was asked last, such as "18 kg".
    latest: str = ""
    # The e1RM in words; empty where there is none to tell.
    e1rm: str = ""


def staircase_chart(staircase: Staircase) -> Chart:
    """Newest first in the table, as in the log."""
    rows = [
        [_long_day(dot.performed_on), dot.asked, dot.done, dot.verdict, "" if dot.e1rm is None else f"{dot.e1rm:.1f}"]
        for dot in reversed(staircase.dots)
    ]
    met = sum(dot.kind.value == "met" for dot in staircase.dots)
    return Chart(
        key=f"staircase-{staircase.exercise_id}",
        name=staircase.name,
        latest=staircase.latest,
        e1rm=staircase.e1rm,
        label=f"{staircase.name}, {staircase.unit} asked and done: {met} of {len(rows)} met; now {staircase.latest}",
        table=table_of({"columns": ["Day", "Asked", "Done", "What came of it", "e1RM"], "rows": rows}),
    )


def tonnage_chart(points: Sequence[WeekPoint], unit: str) -> Chart:
    rows = [
        [
            _week(point.week_start),
            "" if not point.due else f"{point.attended} of {point.due}",
            _figure(point.tonnage, f" {unit}"),
            _figure(point.asked, f" {unit}"),
            share_text(point.dose),
        ]
        for point in reversed(points)
    ]
    return Chart(
        key="tonnage",
        name="Tonnage a week",
        label=f"Tonnage of each week in {unit}: lifted as bars, asked as outlines",
        table=table_of({"columns": ["Week of", "Sessions", "Lifted", "Asked", "Share of the plan done"], "rows": rows}),
    )


def density_chart(points: Sequence[WeekPoint]) -> Chart:
    rows = [
        [_week(point.week_start), _figure(point.minutes, " min"), share_text(point.density)]
        for point in reversed(points)
    ]
    return Chart(
        key="density",
        name="Density against the stage's plan",
        label="Density of each week as a share of the density that its stage asks for",
        table=table_of({"columns": ["Week of", "Minutes", "Density against plan"], "rows": rows}),
    )


def _long_day(day: date) -> str:
    return f"{day_text(day)} {day.year}"


def _week(monday: date) -> str:
    return f"{monday.day} {monday:%b} {monday.year}"


def _figure(value: float | None, unit: str) -> str:
    return "" if value is None else f"{value:,.0f}{unit}"
