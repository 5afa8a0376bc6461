"""What a list writes of each client, kept as long as the facts that it was written from stand: on most mornings nearly
all of a roster is as it was a minute ago."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any, ClassVar, Generic, TypeVar

from coaching.monitoring.models import ClientState

Written = TypeVar("Written")

# Client, when their facts were computed, the week of the list.
_Key = tuple[int, datetime, date]


class KeptByFacts(Generic[Written]):
    """What is at hand for one look at a list of a week; it stays so while the look lasts."""

    most_kept: ClassVar[int]
    _kept: ClassVar[dict[_Key, Any]]

    def __init_subclass__(cls) -> None:
        cls._kept = {}

    def __init__(self, this_week: date) -> None:
        self.this_week = this_week
        self.at_hand: dict[int, Written] = {}

    def find(self, state: ClientState) -> bool:
        """Whether something is there of these facts; takes it to hand."""
        written: Written | None = self._kept.get(self._key(state))
        if written is not None:
            self.at_hand[state.client_id] = written
        return written is not None

    def keep(self, state: ClientState, written: Written) -> None:
        """Facts that are computed for this look only, and stored nowhere, have no time by which to know them again."""
        if state.computed_at is None:
            return
        if len(self._kept) >= self.most_kept:
            self._kept.clear()
        self._kept[self._key(state)] = written

    @classmethod
    def forget(cls) -> None:
        cls._kept.clear()

    def _key(self, state: ClientState) -> _Key:
        return state.client_id, state.computed_at, self.this_week
