"""A staircase as a drawing that needs no script: the same line, dots and shapes as the story's chart, as inline SVG."""

from __future__ import annotations

from collections.abc import Iterator

from django.utils.html import escape
from django.utils.safestring import SafeString

from coaching.desk.chart_tables import staircase_chart
from coaching.monitoring.chart_span import Span
from coaching.monitoring.plain_words import day_text
from coaching.monitoring.staircase_plot import Sheet, StaircasePlot
from coaching.monitoring.staircases import Dot, DotKind, Staircase

SHEET = Sheet(width=300, height=128, left=42, right=8, top=10, bottom=20)

# Shape before colour: filled, open, open with a dot, a cross.
_SHAPES = {
    DotKind.MET: '<circle class="met" cx="{x:.1f}" cy="{y:.1f}" r="4"/>',
    DotKind.SHORT: '<circle class="short" cx="{x:.1f}" cy="{y:.1f}" r="3.4"/>',
    DotKind.LIGHTER: '<circle class="short" cx="{x:.1f}" cy="{y:.1f}" r="3.4"/>',
    DotKind.HEAVIER: (
        '<circle class="heavier" cx="{x:.1f}" cy="{y:.1f}" r="3.6"/>'
        '<circle class="heavier-dot" cx="{x:.1f}" cy="{y:.1f}" r="1.2"/>'
    ),
    DotKind.NOT_LOGGED: '<path class="not-logged" d="M{x:.1f} {y:.1f}m-3-3l6 6m0-6l-6 6"/>',
}


def draw_staircase(staircase: Staircase, span: Span) -> SafeString:
    plot = StaircasePlot.of(staircase, SHEET, span)
    parts = [
        *_value_ticks(plot),
        *_day_ticks(plot),
        f'<path class="asked" d="{plot.line(staircase)}"/>',
        *(_dot(dot, plot) for dot in staircase.dots),
    ]
    label = escape(staircase_chart(staircase).label)
    box = f'viewBox="0 0 {SHEET.width} {SHEET.height}" role="img" aria-label="{label}"'
    return SafeString(f'<svg class="staircase" {box}>{"".join(parts)}</svg>')


def _dot(dot: Dot, plot: StaircasePlot) -> str:
    later = f", done {day_text(dot.performed_on)}" if dot.performed_on != dot.suggested_on else ""
    words = escape(f"{day_text(dot.suggested_on)}{later}: {dot.done}; asked {dot.asked}: {dot.verdict}")
    shape = _SHAPES[dot.kind].format(x=plot.x(dot.suggested_on), y=plot.y(dot.value))
    return f"<g><title>{words}</title>{shape}</g>"


def _value_ticks(plot: StaircasePlot) -> Iterator[str]:
    for value in plot.axis.ticks:
        yield f'<text x="{SHEET.left - 8}" y="{plot.y(value) + 3.5:.1f}" text-anchor="end">{value:g}</text>'


def _day_ticks(plot: StaircasePlot) -> Iterator[str]:
    for day, words in plot.span.ticks():
        x = plot.x(day)
        yield f'<path class="tick" d="M{x:.1f} {SHEET.floor}v4"/>'
        yield f'<text x="{x:.1f}" y="{SHEET.height - 4}">{escape(words)}</text>'
