"""Who is drifting away? The first that holds of silent, quiet, not started, week gone, early.

- silent, quiet: 28 or 14 days outside pauses since the last log, with a due session suggested since.
- not started: no log yet, 5 days after the first due session's suggested day. Somebody with no log is nothing else.
- week gone: the last three due sessions, by suggested day, missed or overdue (the published "interruption").
- early: the last two, less than 28 days after the first due session's suggested day.
Never while the day lies in a pause. Early is to watch, the others to act on.
"""

from __future__ import annotations

import numpy as np

from analytics.findings_schema import Cases, Found, Kind, Turnout, Urgency, found
from analytics.history import History
from analytics.session_status import is_attended, is_due, statuses_on
from analytics.sorted_keys import Bools, DayLookup, Ints, expand_ranges, order_by, run_starts

_NOTHING = -1


class DueSessions:
    """For some cases, the sessions that are due, by case and suggested day."""

    def __init__(self, history: History, cases: Cases) -> None:
        outcomes = history.outcomes
        order = order_by(
            outcomes["client_row"], outcomes["suggested_day"], outcomes["session_id"]
        )
        client = outcomes["client_row"][order]
        starts = np.searchsorted(client, cases.client_row, side="left")
        case, at = expand_ranges(starts, np.searchsorted(client, cases.client_row, side="right"))
        row = order[at]
        sends = history.record.clients["sends"][cases.client_row[case]]
        status = statuses_on(outcomes, cases.day[case], sends, history.thresholds, row)
        due = is_due(status)
        self.case, self.row = case[due], row[due]
        self.is_attended = is_attended(status[due])
        self.suggested = outcomes["suggested_day"][self.row]
        self.starts = np.searchsorted(self.case, np.arange(len(cases)), side="left")
        self.stops = np.searchsorted(self.case, np.arange(len(cases)), side="right")

    def first_suggested(self) -> Ints:
        """The suggested day of each case's first due session; a day in the far future where nothing is due."""
        if not self.suggested.size:
            return np.full(self.starts.size, np.iinfo(np.int64).max // 2)
        first = self.suggested[np.minimum(self.starts, self.suggested.size - 1)]
        return np.where(self.stops > self.starts, first, np.iinfo(np.int64).max // 2)

    def unattended_in_a_row(self) -> Ints:
        """How many of the last due sessions of each case, up to the newest, were missed or are overdue."""
        if not self.case.size:
            return np.zeros(self.starts.size, dtype=np.int64)
        starts = run_starts(self.case, self.is_attended.astype(np.int64))
        index = np.arange(self.case.size)
        run = index - np.maximum.accumulate(np.where(starts, index, 0)) + 1
        last = np.maximum(self.stops - 1, 0)
        return np.where((self.stops > self.starts) & ~self.is_attended[last], run[last], 0)

    def has_one_between(self, after: Ints, until: Ints) -> Bools:
        """Whether a due session of each case is suggested after one day and up to another."""
        inside = (self.suggested > after[self.case]) & (self.suggested <= until[self.case])
        return np.bincount(self.case[inside], minlength=self.starts.size) > 0

    def turnout_between(self, first_day: Ints, last_day: Ints) -> np.ndarray:
        """Attended / due over the sessions suggested from first to last day, both included; NaN where none is due."""
        size = self.starts.size
        inside = (self.suggested >= first_day[self.case]) & (self.suggested <= last_day[self.case])
        due = np.bincount(self.case[inside], minlength=size)
        attended = np.bincount(self.case[inside & self.is_attended], minlength=size)
        return np.divide(attended, due, out=np.full(size, np.nan), where=due > 0)


class LogDays:
    """The days on which each client trained, by client."""

    def __init__(self, history: History) -> None:
        client = history.log_figures["client_row"]
        day = history.log_figures["performed_day"]
        order = order_by(client, day)
        self.day = day[order]
        self._lookup = DayLookup(client[order], self.day)

    def last_until(self, cases: Cases) -> tuple[Bools, Ints]:
        """Whether there is a log by each case's day, and the day of the last one (the case's own day without)."""
        row = self._lookup.last_until(cases.client_row, cases.day)
        last = cases.day.copy()
        last[row >= 0] = self.day[row[row >= 0]]
        return row >= 0, last


def find_turnout(history: History, cases: Cases, due: DueSessions, log_days: LogDays) -> Found:
    """Findings about turnout: subject is a `Turnout`, `row` the newest due session (a row of outcomes), `count` the
    days without a log (silent, quiet, not started) or the sessions missed in a row (week gone, early).
    """
    thresholds = history.thresholds
    has_log, last_log = log_days.last_until(cases)
    days = history.pauses.days_not_paused(cases.client_row, last_log, cases.day)
    is_awaited_since = has_log & due.has_one_between(last_log, cases.day)
    missed = due.unattended_in_a_row()
    first_due = due.first_suggested()
    subject = np.select(
        [
            is_awaited_since & (days >= thresholds.silent_days),
            is_awaited_since & (days >= thresholds.quiet_days),
            ~has_log & (cases.day >= first_due + thresholds.not_started_days),
            has_log & (missed >= thresholds.week_gone_sessions),
            has_log & (missed >= thresholds.early_sessions) & (cases.day < first_due + thresholds.early_days),
        ],
        [Turnout.SILENT, Turnout.QUIET, Turnout.NOT_STARTED, Turnout.WEEK_GONE, Turnout.EARLY],
        default=_NOTHING,
    )
    subject[history.pauses.covers(cases.client_row, cases.day)] = _NOTHING
    subject[~history.record.clients["is_active"][cases.client_row]] = _NOTHING
    case = np.flatnonzero(subject != _NOTHING)
    subject = subject[case]
    is_of_days = subject <= Turnout.QUIET
    since_first = cases.day - first_due
    count = np.where(is_of_days, days[case], np.where(subject == Turnout.NOT_STARTED, since_first[case], missed[case]))
    return found(
        Kind.TURNOUT, cases, case,
        subject=subject,
        urgency=np.where(subject == Turnout.EARLY, Urgency.WATCH, Urgency.ACT),
        row=due.row[due.stops[case] - 1],
        count=count,
    )
