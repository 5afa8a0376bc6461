"""Week cells of the board, kept as long as the facts that they were written from stand: on most mornings nearly all
of a roster is as it was a minute ago."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from typing import ClassVar

from django.utils.safestring import SafeString

from coaching.monitoring.models import ClientState

# Some ten megabytes.
MOST_KEPT = 2000

# Client, when their facts were computed, the board's last week.
Key = tuple[int, datetime, date]


@dataclass(frozen=True, slots=True)
class Cells:
    html: SafeString
    # A session of the board's last week is missed or overdue.
    is_behind: bool


@dataclass
class KeptCells:
    """What is at hand for one look at the board; it stays so while the look lasts."""

    this_week: date
    at_hand: dict[int, Cells] = field(default_factory=dict)

    _kept: ClassVar[dict[Key, Cells]] = {}

    def find(self, state: ClientState) -> bool:
        """Whether the cells of these facts are there; takes them to hand."""
        cells = self._kept.get(self._key(state))
        if cells:
            self.at_hand[state.client_id] = cells
        return cells is not None

    def keep(self, state: ClientState, cells: Cells) -> None:
        """Facts that are computed for this look only, and stored nowhere, have no time by which to know them again."""
        if state.computed_at is None:
            return
        if len(self._kept) >= MOST_KEPT:
            self._kept.clear()
        self._kept[self._key(state)] = cells

    @classmethod
    def forget(cls) -> None:
        cls._kept.clear()

    def _key(self, state: ClientState) -> Key:
        return state.client_id, state.computed_at, self.this_week
