"""Does the plan fit the time there is, and does it go on?

- cut short: three of the last four sessions with a log were partial, or took 30 % more minutes than the client has.
- plan runs out: active, not paused, and from the Thursday of the last week with a planned session on.
"""

from __future__ import annotations

import numpy as np

from analytics.findings_schema import NO_SUBJECT, Cases, Found, Kind, Urgency, found
from analytics.history import History
from analytics.session_outcomes import NEVER
from analytics.sorted_keys import Bools, DayLookup, order_by, rank_in_run, run_starts
from analytics.training_weeks import week_start_day

# Minutes have two decimals: far below one of them, far above the rounding of a product.
ROUNDING_MINUTES = 1e-6


class LinkedSessions:
    """Planned sessions with a log, by client and day performed, with what would hold if each were the latest."""

    def __init__(self, history: History) -> None:
        outcomes, thresholds = history.outcomes, history.thresholds
        performed = outcomes["performed_day"]
        client = outcomes["client_row"]
        linked = np.flatnonzero(performed != NEVER)
        suggested = outcomes["suggested_day"][linked]
        session_id = outcomes["session_id"][linked]
        self.row = linked[order_by(client[linked], performed[linked], suggested, session_id)]
        self.lookup = DayLookup(client[self.row], performed[self.row])
        is_cut = self._is_cut(history)
        counted = np.concatenate([[0], np.cumsum(is_cut)])
        index = np.arange(self.row.size)
        rank = rank_in_run(run_starts(client[self.row]))
        has_enough = rank + 1 >= thresholds.cut_short_of_sessions
        first = np.where(has_enough, index + 1 - thresholds.cut_short_of_sessions, index + 1)
        # None before there are four.
        self.cut_of_last = counted[index + 1] - counted[first]

    def _is_cut(self, history: History) -> Bools:
        outcomes, thresholds = history.outcomes, history.thresholds
        completion = outcomes["set_completion"][self.row]
        log_row = outcomes["log_row"][self.row]
        client = outcomes["client_row"][self.row]
        minutes = history.record.session_logs["minutes"][log_row]
        allowed = history.record.clients["minutes"][client] * thresholds.minutes_over
        is_partial = completion < thresholds.done_from_completion
        return is_partial | (minutes >= allowed - ROUNDING_MINUTES)


def find_cut_short(history: History, cases: Cases, linked: LinkedSessions) -> Found:
    """`row` is the latest session's in outcomes, `count` how many of the last four were cut short or ran over."""
    at = linked.lookup.last_until(cases.client_row, cases.day)
    is_cut = at >= 0
    if linked.row.size:
        is_cut &= linked.cut_of_last[at] >= history.thresholds.cut_short_sessions
    case = np.flatnonzero(is_cut)
    return found(
        Kind.CUT_SHORT, cases, case,
        subject=NO_SUBJECT, urgency=Urgency.WATCH, row=linked.row[at[case]], count=linked.cut_of_last[at[case]],
    )


def find_plan_runs_out(history: History, cases: Cases) -> Found:
    """`row` is the client's last planned session in outcomes, `count` the days since that week's Thursday."""
    clients, outcomes = history.record.clients, history.outcomes
    client, suggested = outcomes["client_row"], outcomes["suggested_day"]
    order = order_by(client, suggested, outcomes["session_id"])
    last_row = np.full(len(clients), -1, dtype=np.int64)
    # Later rows overwrite earlier ones: the last of each client stays.
    last_row[client[order]] = order
    row = last_row[cases.client_row]
    has_plan = row >= 0
    from_day = np.full(len(cases), np.iinfo(np.int64).max, dtype=np.int64)
    last_week = week_start_day(suggested[row[has_plan]])
    from_day[has_plan] = last_week + history.thresholds.plan_runs_out_weekday
    holds = (
        (cases.day >= from_day)
        & clients["is_active"][cases.client_row]
        & ~history.pauses.covers(cases.client_row, cases.day)
    )
    case = np.flatnonzero(holds)
    return found(
        Kind.PLAN_RUNS_OUT, cases, case,
        subject=NO_SUBJECT, urgency=Urgency.ACT, row=row[case], count=cases.day[case] - from_day[case],
    )
