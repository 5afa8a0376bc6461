"""One small shape for each session: what became of it can be read without colour, and is told in words as well."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

from django.utils.html import escape
from django.utils.safestring import SafeString

from coaching.monitoring.mark_shapes import MARK_PITCH, MARK_SIZE, path_of, placed
from coaching.monitoring.mark_words import LEGEND, STATUS_WORDS, ExtraMark, shape_of, summary
from coaching.monitoring.plain_words import counted, day_text
from coaching.monitoring.session_marks import SessionMark

WEEK_GAP = 6


def strip(marks: Iterable[SessionMark | ExtraMark], label: str = "") -> SafeString:
    """The marks side by side, a gap between weeks; `label` replaces the spoken summary."""
    in_order = list(marks)
    if not in_order:
        return SafeString("")
    x, week, paths = 0, in_order[0].week_start, []
    for one in in_order:
        if one.week_start != week:
            x, week = x + WEEK_GAP, one.week_start
        paths.append(path_of(shape_of(one), x, mark_text(one)))
        x += MARK_PITCH
    spoken = escape(label) if label else summary(tuple(one.status for one in in_order))
    return _drawing(paths, x - MARK_PITCH + MARK_SIZE, spoken)


def quiet_strip(marks: Sequence[SessionMark]) -> SafeString:
    """The same to glance at, in a list of hundreds: told as a whole, with one path for all shapes of a kind."""
    week = marks[0].week_start if marks else None
    shapes = []
    for one in marks:
        shapes.append((shape_of(one), one.week_start != week))
        week = one.week_start
    return _quiet_drawing(tuple(shapes), tuple(one.status for one in marks))


def _quiet_drawing(shapes: tuple[tuple[str, bool], ...], statuses: tuple[str, ...]) -> SafeString:
    if not shapes:
        return SafeString("")
    x, outlines = -MARK_PITCH, defaultdict(list)
    for shape, begins_week in shapes:
        x += MARK_PITCH + (WEEK_GAP if begins_week else 0)
        css_class, outline = placed(shape, x)
        outlines[css_class].append(outline)
    paths = [
        f'<path class="{css_class}" d="{"".join(several)}"/>' if css_class else f'<path d="{"".join(several)}"/>'
        for css_class, several in outlines.items()
    ]
    return _drawing(paths, x + MARK_SIZE, summary(statuses))


def week_strip(marks: Sequence[SessionMark], extras: Sequence[int]) -> SafeString:
    """The marks of one week, then its extra sessions, of which the sets are known."""
    shapes = [(shape_of(one), mark_text(one)) for one in marks]
    shapes += [("extra", f"extra session, {counted(sets, 'set')}") for sets in extras]
    if not shapes:
        return SafeString("")
    paths = [path_of(shape, place * MARK_PITCH, text) for place, (shape, text) in enumerate(shapes)]
    spoken = summary((*(one.status for one in marks), *("extra" for _ in extras)))
    return _drawing(paths, MARK_PITCH * (len(shapes) - 1) + MARK_SIZE, spoken)


def mark(one: SessionMark | ExtraMark) -> SafeString:
    """A single mark."""
    text = mark_text(one)
    return _drawing([path_of(shape_of(one), 0, text)], MARK_SIZE, text)


def legend() -> SafeString:
    """Every shape with its meaning."""
    items = (f"<li>{_drawing([path_of(shape, 0)], MARK_SIZE)} {meaning}</li>" for shape, meaning in LEGEND)
    return SafeString(f'<ul class="mark-legend" aria-label="What the marks mean">{"".join(items)}</ul>')


def mark_text(one: SessionMark | ExtraMark) -> str:
    """The mark in words, escaped: day, session, what became of it, sets."""
    if isinstance(one, ExtraMark):
        return f"{day_text(one.performed_on)}: extra session, {counted(one.working_sets, 'set')}"
    sets = f", {one.counted_sets} of {counted(one.planned_sets, 'set')}" if one.status in _TELLS_SETS else ""
    late = ", after its week" if one.done_later else ""
    day = day_text(one.performed_on or one.suggested_on)
    return f"{day}{_session_name(one.label)}: {STATUS_WORDS[one.status]}{sets}{late}"


_TELLS_SETS = frozenset({"done", "partial", "missed", "overdue"})


def _session_name(label: str) -> str:
    return f", session {escape(label)}" if label else ""


def _drawing(paths: Iterable[str], width: int, label: str = "") -> SafeString:
    spoken = f'role="img" aria-label="{label}"' if label else 'aria-hidden="true"'
    return SafeString(
        f'<svg class="marks" width="{width}" height="{MARK_SIZE}" viewBox="0 0 {width} {MARK_SIZE}" {spoken}>'
        f"{''.join(paths)}</svg>"
    )
