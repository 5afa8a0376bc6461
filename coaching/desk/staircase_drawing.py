"""A staircase as a drawing that needs no script: the same line, dots and shapes as the story's chart, as inline SVG."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from django.utils.html import escape
from django.utils.safestring import SafeString

from coaching.desk.chart_tables import staircase_chart
from coaching.monitoring.chart_span import Span
from coaching.monitoring.plain_words import day_text
from coaching.monitoring.staircases import Dot, DotKind, Staircase

WIDTH, HEIGHT = 300, 128
LEFT, RIGHT, TOP, BOTTOM = 42, 8, 10, 20
# Tick labels closer together than this share of the axis would touch.
CLOSEST_TICKS = 0.2

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
    scale = _Scale(staircase, span)
    parts = [
        *_value_ticks(scale),
        *_day_ticks(scale),
        f'<path class="asked" d="{_line(staircase.steps, scale)}"/>',
        *(_dot(dot, scale) for dot in staircase.dots),
    ]
    label = escape(staircase_chart(staircase).label)
    box = f'viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="{label}"'
    return SafeString(f'<svg class="staircase" {box}>{"".join(parts)}</svg>')


class _Scale:
    """Days to the right, values up."""

    def __init__(self, staircase: Staircase, span: Span) -> None:
        known = [value for _, value in staircase.steps if value is not None]
        values = [*known, *(dot.value for dot in staircase.dots)]
        low, high = min(values), max(values)
        room = (high - low) or max(1.0, high / 4)
        self.span, self.low, self.reach = span, low - 0.2 * room, (high - low) + 0.4 * room
        self.ticks = list(_apart(sorted(set(values)), CLOSEST_TICKS * room))

    def x(self, day: date) -> float:
        share = (day - self.span.first).days / max(1, (self.span.last - self.span.first).days)
        return LEFT + share * (WIDTH - LEFT - RIGHT)

    def y(self, value: float) -> float:
        return HEIGHT - BOTTOM - (value - self.low) / self.reach * (HEIGHT - BOTTOM - TOP)


def _apart(values: Sequence[float], least: float) -> Iterator[float]:
    last: float | None = None
    for value in values:
        if last is None or value - last >= least:
            last = value
            yield value


def _line(steps: Sequence[tuple[date, float | None]], scale: _Scale) -> str:
    """Level until the next step, then straight up or down; nothing where the line is broken."""
    path, is_begun = [], False
    for day, value in steps:
        if value is None:
            is_begun = False
            continue
        x, y = scale.x(day), scale.y(value)
        path.append(f"H{x:.1f}V{y:.1f}" if is_begun else f"M{x:.1f} {y:.1f}")
        is_begun = True
    return "".join(path)


def _dot(dot: Dot, scale: _Scale) -> str:
    later = f", done {day_text(dot.performed_on)}" if dot.performed_on != dot.suggested_on else ""
    words = escape(f"{day_text(dot.suggested_on)}{later}: {dot.done}; asked {dot.asked}: {dot.verdict}")
    shape = _SHAPES[dot.kind].format(x=scale.x(dot.suggested_on), y=scale.y(dot.value))
    return f"<g><title>{words}</title>{shape}</g>"


def _value_ticks(scale: _Scale) -> Iterator[str]:
    for value in scale.ticks:
        yield f'<text x="{LEFT - 8}" y="{scale.y(value) + 3.5:.1f}" text-anchor="end">{value:g}</text>'


def _day_ticks(scale: _Scale) -> Iterator[str]:
    for day, words in scale.span.ticks():
        x = scale.x(day)
        yield f'<path class="tick" d="M{x:.1f} {HEIGHT - BOTTOM}v4"/>'
        yield f'<text x="{x:.1f}" y="{HEIGHT - 4}">{escape(words)}</text>'
