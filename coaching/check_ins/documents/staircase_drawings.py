"""Staircases as small vector drawings that say what the charts of the pages do, each with all of it in words."""

from __future__ import annotations

from collections.abc import Iterator

from coaching.check_ins.documents.colours import ASKED, DONE, HEAVIER, MUTED, RULE, SHORT
from coaching.monitoring.chart_span import Span
from coaching.monitoring.plain_words import day_text
from coaching.monitoring.staircase_plot import Sheet, StaircasePlot
from coaching.monitoring.staircases import Dot, DotKind, Staircase

# In points, as on paper.
SHEET = Sheet(width=156, height=60, left=26, right=6, top=3, bottom=13)
TEXT_SIZE = 6.5
DOT = 2.3

_OPEN = f'<circle cx="{{x:.2f}}" cy="{{y:.2f}}" r="{DOT}" fill="#fff" stroke="{SHORT}" stroke-width="1.2"/>'
_DOTS = {
    DotKind.MET: f'<circle cx="{{x:.2f}}" cy="{{y:.2f}}" r="{DOT + 0.3}" fill="{DONE}"/>',
    DotKind.SHORT: _OPEN,
    DotKind.LIGHTER: _OPEN,
    DotKind.HEAVIER: (
        f'<circle cx="{{x:.2f}}" cy="{{y:.2f}}" r="{DOT}" fill="#fff" stroke="{HEAVIER}" stroke-width="1.1"/>'
        f'<circle cx="{{x:.2f}}" cy="{{y:.2f}}" r="0.9" fill="{HEAVIER}"/>'
    ),
    DotKind.NOT_LOGGED: f'<path d="M{{x:.2f}} {{y:.2f}}m-2-2l4 4m0-4l-4 4" stroke="{MUTED}" stroke-width="1.1"/>',
}
_LINE = f'fill="none" stroke="{ASKED}" stroke-width="1"'
_LEGEND = (
    ("asked", f'<path d="M0 8h6v-5h6" {_LINE}/>'),
    *((words, _DOTS[kind].format(x=6, y=5)) for kind, words in (
        (DotKind.MET, "met"), (DotKind.SHORT, "short; below the line: step not taken"),
        (DotKind.HEAVIER, "heavier than asked"), (DotKind.NOT_LOGGED, "not logged"),
    )),
)  # fmt: skip


def staircase_legend() -> list[dict[str, object]]:
    return [{"svg": _svg(12, 10, shape), "height": 1.2, "alt": "", "words": words} for words, shape in _LEGEND]


def staircase_drawing(staircase: Staircase, span: Span) -> dict[str, object]:
    plot = StaircasePlot.of(staircase, SHEET, span)
    parts = [*_ticks(plot), f'<path d="{plot.line(staircase)}" {_LINE}/>']
    parts += [_DOTS[dot.kind].format(x=plot.x(dot.suggested_on), y=plot.y(dot.value)) for dot in staircase.dots]
    return {"svg": _svg(SHEET.width, SHEET.height, "".join(parts)), "alt": in_words(staircase)}


def met_text(staircase: Staircase) -> str:
    met = sum(dot.kind is DotKind.MET for dot in staircase.dots)
    return f"{met} of {len(staircase.dots)} met" if staircase.dots else "not done yet"


def in_words(staircase: Staircase) -> str:
    """What the drawing shows: the last load, then every exposure."""
    asked = f"{staircase.name}, {staircase.unit} asked and done: {met_text(staircase)}; now {staircase.latest}"
    return ". ".join([asked, *map(_dot_text, staircase.dots)])


def course_text(staircase: Staircase) -> str:
    """From where to where the steps went, such as "16 to 18 kg"."""
    asked = [value for _, value in staircase.steps if value is not None]
    return (
        f"{asked[0]:g} to {asked[-1]:g} {staircase.unit}" if asked[0] != asked[-1] else f"{asked[0]:g} {staircase.unit}"
    )


def _dot_text(dot: Dot) -> str:
    return f"{day_text(dot.performed_on)}: asked {dot.asked}, done {dot.done}, {dot.verdict}"


def _ticks(plot: StaircasePlot) -> Iterator[str]:
    floor = SHEET.floor
    yield f'<path d="M{SHEET.left} {floor}H{SHEET.width - SHEET.right}" stroke="{RULE}" stroke-width="0.6"/>'
    for value in plot.axis.ticks:
        yield _text(SHEET.left - 5, plot.y(value) + 2.2, f"{value:g}", "end")
    for day, words in plot.span.ticks():
        x = plot.x(day)
        yield f'<path d="M{x:.2f} {floor}v2.5" stroke="{MUTED}" stroke-width="0.5"/>'
        yield _text(x, SHEET.height - 2.5, words, "middle")


def _text(x: float, y: float, words: str, anchor: str) -> str:
    style = f'font-family="Inter" font-size="{TEXT_SIZE}" fill="{MUTED}" text-anchor="{anchor}"'
    return f'<text x="{x:.2f}" y="{y:.2f}" {style}>{words}</text>'


def _svg(width: float, height: float, parts: str) -> str:
    box = f'viewBox="0 0 {width:g} {height:g}" width="{width:g}" height="{height:g}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {box}>{parts}</svg>'
