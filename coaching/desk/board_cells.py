"""The week cells of one row of the board, written out at once: a board holds thousands of them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date

from django.utils.safestring import SafeString

from coaching.desk.marks import ExtraMark, strip, summary
from coaching.monitoring.reading import SessionMark

_EMPTY = '<td role="cell"><span class="none" title="nothing planned">–</span></td>'


def cells_of(marks: Iterable[SessionMark], extras: Iterable[ExtraMark], weeks: Sequence[date]) -> SafeString:
    by_week: dict[date, list[SessionMark | ExtraMark]] = defaultdict(list)
    for mark in marks:
        by_week[mark.week_start].append(mark)
    for extra in extras:
        by_week[extra.week_start].append(extra)
    return SafeString("".join(_cell(by_week[week]) if week in by_week else _EMPTY for week in weeks))


def _cell(marks: list[SessionMark | ExtraMark]) -> str:
    """The marks of one week; "w3" under them is the week of the block, which the picture's label says in full."""
    counts = summary(tuple(mark.status for mark in marks))
    first = marks[0]
    if isinstance(first, ExtraMark):
        return f'<td role="cell">{strip(marks, counts)}</td>'
    label = f"week {first.block_week} of the block: {counts}"
    return f'<td role="cell">{strip(marks, label)}<small aria-hidden="true">w{first.block_week}</small></td>'
