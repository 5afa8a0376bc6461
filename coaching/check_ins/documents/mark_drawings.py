"""Session marks as vector drawings: the shapes of the pages, in ink."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from coaching.check_ins.content import PackWeek
from coaching.check_ins.documents.colours import MARK, MUTED, NEEDS_YOU
from coaching.monitoring.mark_shapes import MARK_PITCH, MARK_SIZE, placed
from coaching.monitoring.mark_words import LEGEND, shape_of, summary

# Strokes reach beyond the box of a shape.
ROOM = 1
HEIGHT = MARK_SIZE + 2 * ROOM
_STYLES = {
    "": f'fill="{MARK}"',
    "mark-missed": f'fill="none" stroke="{NEEDS_YOU}" stroke-width="1.5"',
    "mark-overdue": (
        f'fill="none" stroke="{NEEDS_YOU}" stroke-width="1.5" stroke-dasharray="2.25 2" stroke-dashoffset="1.1"'
    ),
    "mark-awaited": (
        f'fill="none" stroke="{MARK}" stroke-width="1.6" stroke-linecap="round" stroke-dasharray="0.01 2.67"'
    ),
    "mark-not_due": f'fill="none" stroke="{MUTED}" stroke-width="1.3" stroke-linecap="round"',
    "mark-to_come": f'fill="none" stroke="{MUTED}" stroke-width="2.6" stroke-linecap="round"',
    "mark-extra": f'fill="none" stroke="{MARK}" stroke-width="1.5" stroke-linecap="round"',
}


def week_drawing(week: PackWeek) -> dict[str, object] | None:
    """The marks of a week, then its extra sessions; nothing where there are none."""
    shapes = _shapes_of(week)
    if not shapes:
        return None
    return {
        **_drawing(shapes),
        "alt": summary((*(mark.status for mark in week.marks), *("extra" for _ in week.extras))),
    }


def legend_of(weeks: Sequence[PackWeek]) -> list[dict[str, object]]:
    """The shapes that occur, with their meaning."""
    seen = {shape for week in weeks for shape in _shapes_of(week)}
    kinds = {"partial-5" if shape.startswith("partial") else shape for shape in seen}
    if any(shape.endswith("-later") for shape in seen):
        kinds = {kind for kind in kinds if not kind.endswith("-later")} | {"done-later"}
    return [{**_drawing([shape]), "alt": "", "words": meaning} for shape, meaning in LEGEND if shape in kinds]


def _shapes_of(week: PackWeek) -> list[str]:
    return [shape_of(mark) for mark in week.marks] + ["extra" for _ in week.extras]


def _drawing(shapes: Sequence[str]) -> dict[str, object]:
    width = MARK_PITCH * (len(shapes) - 1) + MARK_SIZE + 2 * ROOM
    box = f'viewBox="{-ROOM} {-ROOM} {width} {HEIGHT}" width="{width}" height="{HEIGHT}"'
    return {
        "svg": f'<svg xmlns="http://www.w3.org/2000/svg" {box}>{"".join(_paths(shapes))}</svg>',
        "height": HEIGHT / MARK_SIZE,
    }


def _paths(shapes: Sequence[str]) -> Iterator[str]:
    for place, shape in enumerate(shapes):
        css_class, outline = placed(shape, place * MARK_PITCH)
        yield f'<path {_STYLES[css_class]} d="{outline}"/>'
