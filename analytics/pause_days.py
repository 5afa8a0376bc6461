"""Which days of which client lie in a pause, first and last day included, overlaps counted once."""

from __future__ import annotations

import numpy as np

from analytics.frame_schema import Record
from analytics.sorted_keys import Bools, DayLookup, Ints, positions_of


class PauseDays:
    """Answers about paused days for arrays of (client number, day); a client's number is its row in `clients`."""

    def __init__(self, record: Record) -> None:
        clients = positions_of(record.pauses["client_id"], record.clients["client_id"])
        known = clients >= 0
        first = record.pauses["from_day"][known]
        last = record.pauses["until_day"][known]
        clients = clients[known]
        order = np.lexsort((last, first, clients))
        self._merge(clients[order], first[order], last[order])

    def _merge(self, clients: Ints, first: Ints, last: Ints) -> None:
        # The last day covered so far within a client: keys of a later client are larger, so one running maximum serves.
        key_of_last = clients * DayLookup.SPAN + last + DayLookup.ORIGIN
        covered = np.maximum.accumulate(key_of_last) if clients.size else key_of_last
        key_of_first = clients * DayLookup.SPAN + first + DayLookup.ORIGIN
        begins = np.ones(clients.size, dtype=np.bool_)
        begins[1:] = key_of_first[1:] > covered[:-1]
        starts = np.flatnonzero(begins)
        ends = np.append(starts[1:], clients.size) - 1 if starts.size else starts
        self.clients = clients[starts]
        self.first = first[starts]
        self.last = covered[ends] % DayLookup.SPAN - DayLookup.ORIGIN if starts.size else first
        self._lookup = DayLookup(self.clients, self.first)
        lengths = self.last - self.first + 1
        self._days_before = np.cumsum(lengths) - lengths

    def covers(self, clients: Ints, days: Ints) -> Bools:
        """Whether each day lies in a pause."""
        pause = self._lookup.last_until(clients, days)
        if self.last.size == 0:
            return np.zeros(days.shape, dtype=np.bool_)
        return (pause >= 0) & (days <= self.last[np.maximum(pause, 0)])

    def first_day_outside(self, clients: Ints, days: Ints) -> Ints:
        """The first day from each day on that lies in no pause; one pause may end on the day before the next."""
        days = days.copy()
        while (is_inside := self.covers(clients, days)).any():
            pause = self._lookup.last_until(clients[is_inside], days[is_inside])
            days[is_inside] = self.last[pause] + 1
        return days

    def _paused_until(self, clients: Ints, days: Ints) -> Ints:
        """Paused days up to and including each day, of this client and all before it."""
        key = self._lookup.key(clients, days)
        pause = np.searchsorted(self._lookup.keys, key, side="right") - 1
        at = np.maximum(pause, 0)
        length = self.last[at] - self.first[at] + 1
        within = np.where(self.clients[at] == clients, np.minimum(days - self.first[at] + 1, length), length)
        return np.where(pause >= 0, self._days_before[at] + within, 0)

    def days_not_paused(self, clients: Ints, after: Ints, until: Ints) -> Ints:
        """Days in (after, until] outside every pause."""
        if self.last.size == 0:
            return until - after
        return until - after - (self._paused_until(clients, until) - self._paused_until(clients, after))
