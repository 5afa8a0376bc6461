"""The drawings of a client's story, as figures that the page's own script draws: numbers in, figure JSON out.

The one place where plotly is imported. Colours are names of the page's own colours, which the script looks up, so
that one figure serves light, dark and paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from functools import lru_cache
from html import escape
from typing import Any

from plotly import graph_objects

from coaching.monitoring.chart_span import Span
from coaching.monitoring.plain_words import day_text, share_text
from coaching.monitoring.staircases import Dot, DotKind, Staircase
from coaching.monitoring.value_axis import ValueAxis
from coaching.monitoring.week_points import WeekPoint

Figure = dict[str, Any]
Trace = graph_objects.Scatter | graph_objects.Bar

LEFT_MARGIN = 46
STAIRCASE_HEIGHT = 132
WEEKS_HEIGHT = 190
BAR_MS = 5 * 24 * 3600 * 1000
# Up to so many bars there is room for a share over each.
MOST_SHARES = 30

ASKED, DONE, SHORT, HEAVIER = "var(--chart-asked)", "var(--chart-done)", "var(--chart-short)", "var(--chart-heavier)"
CLEAR, INK, MUTED, RULE = "rgba(0,0,0,0)", "var(--ink)", "var(--muted)", "var(--rule)"
FONT = "Inter, system-ui, sans-serif"
HOVER = "%{text}<extra></extra>"

SYMBOLS = {
    DotKind.MET: ("circle", DONE),
    DotKind.SHORT: ("circle-open", SHORT),
    DotKind.LIGHTER: ("circle-open", SHORT),
    DotKind.HEAVIER: ("circle-open-dot", HEAVIER),
    DotKind.NOT_LOGGED: ("x-thin-open", MUTED),
}


def staircase_figure(staircase: Staircase, span: Span) -> Figure:
    """What was asked as a stepped line, each exposure a dot on it, or off it where another load was lifted."""
    asked = graph_objects.Scatter(
        mode="lines",
        x=[day.isoformat() for day, _ in staircase.steps],
        y=[value for _, value in staircase.steps],
        line={"shape": "hv", "color": ASKED, "width": 1.3},
        hoverinfo="skip",
    )
    by_kind = {kind: [dot for dot in staircase.dots if dot.kind is kind] for kind in DotKind}
    dots = [_dots(kind, alike, span) for kind, alike in by_kind.items() if alike]
    values = [value for _, value in staircase.steps if value is not None] + [dot.value for dot in staircase.dots]
    return _figure([asked, *dots], span, STAIRCASE_HEIGHT, _value_axis(values))


def tonnage_figure(points: Sequence[WeekPoint], span: Span, unit: str) -> Figure:
    """Bars: lifted; outlines: asked; above them the share of the plan done."""
    bars = {
        "x": [_middle(point.week_start) for point in points],
        "width": BAR_MS,
        "text": [_tonnage_text(point, unit) for point in points],
        "textposition": "none",
        "hovertemplate": HOVER,
    }
    outline = {"color": CLEAR, "line": {"color": ASKED, "width": 1.2}}
    lifted = graph_objects.Bar(**bars, y=[point.tonnage for point in points], marker={"color": DONE})
    asked = graph_objects.Bar(**bars, y=[point.asked for point in points], marker=outline)
    shares = [_shares_done(points)] if len(points) <= MOST_SHARES else []
    axis = {"rangemode": "tozero", "nticks": 4, "tickformat": ",", "gridcolor": RULE}
    return _figure([lifted, asked, *shares], span, WEEKS_HEIGHT, axis, {"barmode": "overlay"})


def density_figure(points: Sequence[WeekPoint], span: Span) -> Figure:
    """The density of each week over the one its stage asks for, around the line that is the plan."""
    line = graph_objects.Scatter(
        mode="lines+markers",
        x=[_middle(point.week_start) for point in points],
        y=[None if point.density is None else round(100 * point.density, 1) for point in points],
        line={"color": DONE, "width": 1.6},
        marker={"size": _dot_size(span) - 1, "color": DONE},
        text=[_density_text(point) for point in points],
        hovertemplate=HOVER,
    )
    shares = [100 * point.density for point in points if point.density is not None]
    reach = max([25.0, *(abs(share - 100) * 1.15 for share in shares)])
    axis = {"range": [max(0, 100 - reach), 100 + reach], "ticksuffix": " %", "nticks": 5, "gridcolor": RULE}
    plan = {"type": "line", "layer": "below", "xref": "paper", "x0": 0, "x1": 1, "y0": 100, "y1": 100}
    shapes = [{**plan, "line": {"color": ASKED, "width": 1.3, "dash": "dash"}}]
    return _figure([line], span, WEEKS_HEIGHT, axis, {"shapes": shapes})


def _dots(kind: DotKind, dots: Sequence[Dot], span: Span) -> Trace:
    symbol, color = SYMBOLS[kind]
    return graph_objects.Scatter(
        mode="markers",
        name=kind.value,
        x=[dot.suggested_on.isoformat() for dot in dots],
        y=[dot.value for dot in dots],
        marker={"symbol": symbol, "color": color, "size": _dot_size(span), "line": {"width": 1.6, "color": color}},
        cliponaxis=False,
        text=[_dot_text(dot) for dot in dots],
        hovertemplate=HOVER,
    )


def _figure(traces: Sequence[Trace], span: Span, height: int, value_axis: Figure, more: Figure | None = None) -> Figure:
    # Traces and layout by themselves: a figure of the library brings a template of twenty times the size along.
    yaxis = graph_objects.layout.YAxis(**_QUIET_AXIS, **value_axis).to_plotly_json()
    return {
        "data": [trace.to_plotly_json() for trace in traces],
        "layout": {**_shared_layout(span, height), "yaxis": yaxis, **(more or {})},
    }


_QUIET_AXIS: Figure = {"fixedrange": True, "zeroline": False, "ticks": "", "showline": False, "automargin": False}


@lru_cache(maxsize=256)
def _shared_layout(span: Span, height: int) -> Figure:
    ticks, margin = span.ticks(), timedelta(days=len(span.weeks) // 8 + 1)
    layout = {
        "height": height,
        "margin": {"l": LEFT_MARGIN, "r": 10, "t": 12, "b": 22},
        "showlegend": False,
        "hovermode": "closest",
        "dragmode": False,
        "paper_bgcolor": CLEAR,
        "plot_bgcolor": CLEAR,
        "font": {"family": FONT, "size": 11, "color": MUTED},
        "hoverlabel": {
            "bgcolor": "var(--card)",
            "bordercolor": "var(--edge)",
            "font": {"family": FONT, "color": INK, "size": 12},
            "align": "left",
        },
        "xaxis": {
            **_QUIET_AXIS,
            "type": "date",
            # Room for a dot on the first and on the last day.
            "range": [(span.first - margin).isoformat(), (span.last + margin).isoformat()],
            "tickvals": [day.isoformat() for day, _ in ticks],
            "ticktext": [name for _, name in ticks],
            "gridcolor": RULE,
        },
    }
    shared: Figure = graph_objects.Layout(**layout).to_plotly_json()
    return shared


def _middle(monday: date) -> str:
    return f"{(monday + timedelta(days=3)).isoformat()} 12:00"


def _dot_size(span: Span) -> float:
    weeks = len(span.weeks)
    return 7.5 if weeks <= 16 else 6 if weeks <= 30 else 4.5


def _value_axis(values: Sequence[float]) -> Figure:
    axis = ValueAxis.over(values)
    return {
        "range": [axis.low, axis.high],
        "tickvals": axis.ticks,
        "ticktext": [f"{tick:g}" for tick in axis.ticks],
        "showgrid": False,
    }


def _shares_done(points: Sequence[WeekPoint]) -> Trace:
    known = [point for point in points if point.dose is not None]
    return graph_objects.Scatter(
        mode="text",
        x=[_middle(point.week_start) for point in known],
        y=[max(point.tonnage or 0, point.asked or 0) for point in known],
        text=[f"{100 * (point.dose or 0):.0f}" for point in known],
        textposition="top center",
        textfont={"size": 10, "color": MUTED},
        hoverinfo="skip",
        cliponaxis=False,
    )


def _dot_text(dot: Dot) -> str:
    later = f", done {day_text(dot.performed_on)}" if dot.performed_on != dot.suggested_on else ""
    done = f"{day_text(dot.suggested_on)}{later}: {dot.done}"
    return "<br>".join(escape(line) for line in (done, dot.asked, dot.verdict))


def _tonnage_text(point: WeekPoint, unit: str) -> str:
    lifted = "unknown" if point.tonnage is None else f"{point.tonnage:,.0f} {unit}"
    asked = "nothing" if point.asked is None else f"{point.asked:,.0f} {unit}"
    share = "" if point.dose is None else f"<br>{share_text(point.dose)} of the plan done"
    return f"week of {day_text(point.week_start)}: {lifted} lifted, {asked} asked{share}"


def _density_text(point: WeekPoint) -> str:
    share = "unknown" if point.density is None else f"{share_text(point.density)} of the plan's density"
    return f"week of {day_text(point.week_start)}: {share}"
