"""Which shape stands for what became of a session, and what it is called; drawn by whoever shows it."""

from __future__ import annotations

from collections import Counter
from datetime import date
from functools import lru_cache
from typing import NamedTuple

from analytics.iso_weeks import monday_of
from coaching.monitoring.models import Status
from coaching.monitoring.session_marks import SessionMark

LEGEND = (
    ("done", "done"),
    ("partial-5", "done in part"),
    ("told", "told, no details"),
    ("missed", "missed"),
    ("overdue", "overdue"),
    ("awaited", "awaited"),
    ("not_due", "not due"),
    ("to_come", "to come"),
    ("extra", "extra session"),
    ("done-later", "done later"),
)
STATUS_WORDS = {
    "done": "done",
    "partial": "done in part",
    "told": "told without details",
    "missed": "missed",
    "overdue": "overdue",
    "awaited": "awaited",
    "not_due": "not due",
    "to_come": "to come",
    "extra": "extra",
}
_CAN_BE_LATER = frozenset({"done", "partial", "told"})


class ExtraMark(NamedTuple):
    """A session that nobody planned."""

    performed_on: date
    working_sets: int

    @property
    def week_start(self) -> date:
        return monday_of(self.performed_on)

    @property
    def status(self) -> str:
        return "extra"


@lru_cache(maxsize=4096)
def summary(statuses: tuple[str, ...]) -> str:
    """How many of each kind, such as "2 done, 1 missed"."""
    counts = Counter(statuses)
    return ", ".join(f"{counts[status]} {words}" for status, words in STATUS_WORDS.items() if counts[status])


def shape_of(one: SessionMark | ExtraMark) -> str:
    """The name of the shape that stands for this mark."""
    if one.status not in _CAN_BE_LATER:
        return one.status
    shape = one.status
    if shape == Status.PARTIAL.value:
        # Never empty and never full: those are other marks.
        shape = f"partial-{min(9, max(1, round(10 * (one.set_completion or 0))))}"
    return f"{shape}-later" if one.done_later else shape
