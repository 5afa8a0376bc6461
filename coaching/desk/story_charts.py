"""The charts of a story: each a drawing and a table of the same numbers."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import Enum
from typing import Any

from analytics.flag_thresholds import Thresholds
from analytics.iso_weeks import monday_of
from coaching.desk.chart_tables import Chart, density_chart, staircase_chart, tonnage_chart
from coaching.desk.story_week import STRIP_WEEKS
from coaching.desk.trend_words import TrendLine, trend_lines
from coaching.monitoring.chart_span import Span
from coaching.monitoring.client_reading import ClientFacts
from roster.people.models import Client

# A shorter history is shown whole, but no chart is narrower than this.
FEWEST_WEEKS = 8


class Reach(Enum):
    """How far back the charts go, in weeks, as the address names it."""

    QUARTER = "12"
    HALF = "26"
    YEAR = "52"
    ALL = "all"

    @property
    def label(self) -> str:
        return "all" if self is Reach.ALL else f"{self.value} weeks"


@dataclass(frozen=True)
class Charts:
    live: list[Chart]
    # Of exercises no longer planned: how many there are, and their charts when asked for.
    over_count: int
    over: list[Chart]
    trends: list[TrendLine]
    tonnage: Chart | None
    density: Chart | None
    figures: dict[str, Any]
    formula: str


def first_monday(reach: Reach, day: date) -> date:
    """From when on facts are needed: the charts', and what a story tells of the last weeks in any case."""
    if reach is Reach.ALL:
        return date.min
    return Span.of_weeks(max(STRIP_WEEKS, int(reach.value)), day).first


def span_of(facts: ClientFacts, reach: Reach, day: date) -> Span:
    """So many weeks up to the day's, or as many as there are."""
    monday = monday_of(day)
    history = (monday - monday_of(facts.began_on or monday)).days // 7 + 1
    wanted = history if reach is Reach.ALL else min(history, int(reach.value))
    return Span.of_weeks(max(FEWEST_WEEKS, wanted), day)


def build_charts(client: Client, facts: ClientFacts, span: Span, day: date, *, with_over: bool = False) -> Charts:
    """Loads the chart library, which no other page needs."""
    from coaching.monitoring import client_trends, e1rm_words, figures, staircases, week_points

    thresholds = Thresholds.with_settings(client.studio.thresholds)
    live, over = staircases.live_and_over(staircases.read_planned(client, span.first), day, thresholds)
    options = {"day": day, "unit": client.unit, "tolerance": thresholds.load_tolerance}
    live_stairs = staircases.build_staircases(live, facts.exposures, span, **options)
    over_stairs = staircases.build_staircases(over if with_over else [], facts.exposures, span, **options)
    points = week_points.build_week_points(facts.weeks, span, client.unit)
    has_tonnage = any(point.tonnage is not None or point.asked is not None for point in points)
    has_density = any(point.density is not None for point in points)
    drawn = {f"staircase-{one.exercise_id}": figures.staircase_figure(one, span) for one in live_stairs + over_stairs}
    if has_tonnage:
        drawn["tonnage"] = figures.tonnage_figure(points, span, client.unit)
    if has_density:
        drawn["density"] = figures.density_figure(points, span)
    return Charts(
        live=[staircase_chart(one) for one in live_stairs],
        over_count=len({one.exercise_id for one in over}),
        over=[staircase_chart(one) for one in over_stairs],
        trends=trend_lines(client_trends.client_trends(facts.weeks)),
        tonnage=tonnage_chart(points, client.unit) if has_tonnage else None,
        density=density_chart(points) if has_density else None,
        figures=drawn,
        formula=e1rm_words.formula_rule(),
    )
