"""The week cells of one row of the board."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date
from functools import lru_cache

from django.utils.safestring import SafeString

from coaching.desk.marks import strip
from coaching.monitoring.mark_words import ExtraMark, summary
from coaching.monitoring.session_marks import SessionMark

NOTHING_PLANNED = SafeString('<span class="none" title="nothing planned">–</span>')


def cells_of(marks: Iterable[SessionMark], extras: Iterable[ExtraMark], weeks: Sequence[date]) -> list[SafeString]:
    by_week: dict[date, list[SessionMark | ExtraMark]] = defaultdict(list)
    for mark in marks:
        by_week[mark.week_start].append(mark)
    for extra in extras:
        by_week[extra.week_start].append(extra)
    return [_cell(tuple(by_week[week])) if week in by_week else NOTHING_PLANNED for week in weeks]


# People of a roster are asked for the same on the same days: most weeks of a board are drawn once for several of them.
@lru_cache(maxsize=4096)
def _cell(marks: tuple[SessionMark | ExtraMark, ...]) -> SafeString:
    """The marks of one week; "w3" under them is the week of the block, which the picture's label says in full."""
    counts = summary(tuple([mark.status for mark in marks]))
    first = marks[0]
    if isinstance(first, ExtraMark):
        return strip(marks, counts)
    picture = strip(marks, f"week {first.block_week} of the block: {counts}")
    return SafeString(f'{picture}<small aria-hidden="true">w{first.block_week}</small>')
