"""The week cells of one row of the board, written out at once and kept: a board holds thousands of them, and those
of past weeks hardly ever change."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date
from functools import lru_cache
from typing import Any

from django.utils.safestring import SafeString

from coaching.desk.marks import ExtraMark, strip, summary
from coaching.monitoring.reading import SessionMark

_EMPTY = '<td role="cell"><span class="none" title="nothing planned">–</span></td>'
# Twelve weeks of five hundred clients, about ten megabytes.
_KEPT_CELLS = 6000
# Client and session are not told by a mark: without them, cells of different clients are often the same.
_TOLD = slice(2, None)


def cells_of(marks: Iterable[SessionMark], extras: Iterable[ExtraMark], weeks: Sequence[date]) -> SafeString:
    planned: dict[date, list[tuple[Any, ...]]] = defaultdict(list)
    for mark in marks:
        planned[mark.week_start].append(mark[_TOLD])
    unplanned: dict[date, list[ExtraMark]] = defaultdict(list)
    for extra in extras:
        unplanned[extra.week_start].append(extra)
    return SafeString("".join(_cell(tuple(planned.get(week, ())), tuple(unplanned.get(week, ()))) for week in weeks))


@lru_cache(maxsize=_KEPT_CELLS)
def _cell(planned: tuple[tuple[Any, ...], ...], extras: tuple[ExtraMark, ...]) -> str:
    """The marks of one week; "w3" under them is the week of the block, which the picture's label says in full."""
    marks = [*(SessionMark(0, 0, *told) for told in planned), *extras]
    if not marks:
        return _EMPTY
    counts = summary(tuple(mark.status for mark in marks))
    if not planned:
        return f'<td role="cell">{strip(marks, counts)}</td>'
    week = marks[0].block_week
    label = f"week {week} of the block: {counts}"
    return f'<td role="cell">{strip(marks, label)}<small aria-hidden="true">w{week}</small></td>'
