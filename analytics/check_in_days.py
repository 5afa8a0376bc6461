"""When is somebody's check-in call due?

A day that was set by hand; else the studio's rhythm, every so many days from joining: the first of those days that is
at least half a rhythm after the last call, so that one held a little early or late is not followed by another at once.
Never before the day from which the studio has check-ins; due in a pause, it is due on the first day after.
"""

from __future__ import annotations

import numpy as np

from analytics.flag_thresholds import Thresholds
from analytics.frame_schema import Record
from analytics.pause_days import PauseDays
from analytics.session_outcomes import NEVER
from analytics.sorted_keys import ABSENT, DayLookup, Ints, order_by, positions_of
from analytics.table import Table

# The call to come is over on no day that anybody asks about.
_NOT_OVER = DayLookup.SPAN - DayLookup.ORIGIN - 1


class CheckInDays:
    """The calls of clients whose studio has check-ins, in order: those that were held, and last the one to come."""

    def __init__(self, record: Record, thresholds: Thresholds, pauses: PauseDays) -> None:
        plans = _plans(record)
        held_client = positions_of(record.check_ins["client_id"], plans["client_id"])
        row = np.flatnonzero(held_client != ABSENT)
        held_plan, held_on = held_client[row], record.check_ins["held_day"][row]
        to_come = _day_to_come(plans, _last_held(held_plan, held_on, len(plans)), thresholds)
        plan = np.concatenate([held_plan, np.arange(len(plans), dtype=np.int64)])
        client = plans["client_row"][plan]
        due = np.maximum(np.concatenate([record.check_ins["due_day"][row], to_come]), plans["begins_day"][plan])
        due = pauses.first_day_outside(client, due)
        over = np.concatenate([held_on, np.full(len(plans), _NOT_OVER)])
        order = order_by(client, over)
        self.client_row, self.due_day, self.over_day = client[order], due[order], over[order]
        self._lookup = DayLookup(self.client_row, self.over_day)

    def awaited_on(self, clients: Ints, days: Ints) -> Ints:
        """Which call each client has not had by a day: the first that is over later; ABSENT where there are none."""
        if not self.client_row.size:
            return np.full(clients.shape, ABSENT, dtype=np.int64)
        following = np.searchsorted(self._lookup.keys, self._lookup.key(clients, days), side="right")
        following = np.minimum(following, self.client_row.size - 1)
        return np.where(self.client_row[following] == clients, following, ABSENT)

    def due_on(self, clients: Ints, days: Ints) -> Ints:
        """The day for which that call is due; NEVER where there are none."""
        call = self.awaited_on(clients, days)
        return np.append(self.due_day, NEVER)[call]

    def last_held(self, call: int) -> int | None:
        """The day of the call before one, if that client had any."""
        is_first = call == 0 or self.client_row[call - 1] != self.client_row[call]
        return None if is_first else int(self.over_day[call - 1])


def _plans(record: Record) -> Table:
    """Clients whose studio has check-ins, with their row in `clients` and the day they joined."""
    plans = record.check_in_plans
    client_row = positions_of(plans["client_id"], record.clients["client_id"])
    known = plans.rows(client_row != ABSENT)
    client_row = client_row[client_row != ABSENT]
    return known.with_columns({"client_row": client_row, "joined_day": record.clients["joined_day"][client_row]})


def _last_held(plan: Ints, held_on: Ints, plans: int) -> Ints:
    """Of each plan the day of the last call; long ago where there was none."""
    last = np.full(plans, -DayLookup.ORIGIN, dtype=np.int64)
    np.maximum.at(last, plan, held_on)
    return last


def _day_to_come(plans: Table, last_held: Ints, thresholds: Thresholds) -> Ints:
    every = max(thresholds.check_in_every_days, 1)
    earliest = np.maximum(plans["begins_day"], last_held + (every + 1) // 2)
    rounds = np.maximum(-(-(earliest - plans["joined_day"]) // every), 1)
    by_rhythm = plans["joined_day"] + rounds * every
    is_set = ~np.isnan(plans["set_day"])
    return np.where(is_set, np.nan_to_num(plans["set_day"]).astype(np.int64), by_rhythm)
