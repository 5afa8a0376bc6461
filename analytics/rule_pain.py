"""Who hurts? The recorded pain reports from the latest back to the first that is at most 2 (not included).

Any of them above 5, or an alarm symptom: now. Two or more: act. One: watch. None, but the last three reports all at
least 1: watch. The subject is the latest region named. It ends with a later report of at most 2, whatever its region,
or by the coach's word; never by silence. A report with an alarm symptom never counts as calm. A report that came in
after the coach's word is a new one, on the same day too.
"""

from __future__ import annotations

import numpy as np

from analytics.findings_schema import Cases, Found, Kind, Urgency, found
from analytics.flag_thresholds import Thresholds
from analytics.frame_schema import ABSENT, Record
from analytics.sorted_keys import DayLookup, Ints, dense_codes, positions_of, rank_in_run, run_starts
from analytics.table import Table

_NOTHING = -1


class PainReports:
    """Reports by client and day, each with what would hold if it were the latest."""

    def __init__(self, record: Record, thresholds: Thresholds) -> None:
        reports, closings = record.pain_reports, record.pain_closings
        client = positions_of(reports["client_id"], record.clients["client_id"])
        self.order = np.lexsort((reports["order"], reports["day"], client))
        self.client, self.day = client[self.order], reports["day"][self.order]
        self.pain = reports["pain"][self.order]
        self.is_alarm = reports["is_alarm"][self.order]
        self.region = reports["region_code"][self.order]
        self.log_id = reports["log_id"][self.order]
        self._lookup = DayLookup(self.client, self.day)
        closing_client = positions_of(closings["client_id"], record.clients["client_id"])
        by_client = np.lexsort((closings["order"], closings["day"], closing_client))
        self._closings = DayLookup(closing_client[by_client], closings["day"][by_client])
        self._closing_before = self._last_closing_before(
            closing_client[by_client], closings.rows(by_client), reports["order"][self.order]
        )
        self._judge(thresholds)

    def _last_closing_before(self, client: Ints, closings: Table, report_order: Ints) -> Ints:
        """Of each report the client's last closing that did not know it; -1 where there is none."""
        codes, _ = dense_codes(
            np.concatenate([client, self.client]),
            np.concatenate([closings["day"], self.day]),
            np.concatenate([closings["order"], report_order]),
        )
        before = np.searchsorted(codes[: client.size], codes[client.size :], side="left") - 1
        if not client.size:
            return before
        return np.where((before >= 0) & (client[before] == self.client), before, -1)

    def _judge(self, thresholds: Thresholds) -> None:
        # A closing parts the reports that it knew from those after it.
        segment = self._closing_before
        is_open = self.pain > thresholds.pain_safe
        is_open |= self.is_alarm
        starts = run_starts(self.client, segment, is_open.astype(np.int64))
        self.run_length = np.where(is_open, rank_in_run(starts) + 1, 0)
        is_high = (self.pain > thresholds.pain_high) | self.is_alarm
        lasting = _run_of(self.pain >= thresholds.pain_lasting_from, self.client, segment)
        has_high = _count_in_window(is_high, self.run_length) > 0
        self.urgency = np.select(
            [has_high, self.run_length >= thresholds.pain_act_reports, self.run_length >= 1],
            [Urgency.NOW, Urgency.ACT, Urgency.WATCH],
            default=np.where(lasting >= thresholds.pain_lasting_reports, Urgency.WATCH, _NOTHING),
        )
        self.window = np.where(self.run_length > 0, self.run_length, thresholds.pain_lasting_reports)

    def latest_open(self, cases: Cases) -> tuple[Ints, Ints]:
        """Cases with an open pain finding, and the row (in this order) of the latest report of each."""
        row = self._lookup.last_until(cases.client_row, cases.day)
        has_report = row >= 0
        if not self.day.size:
            return np.zeros(0, dtype=np.int64), np.zeros(0, dtype=np.int64)
        last_closing = self._closings.last_until(cases.client_row, cases.day)
        is_open = has_report & (self.urgency[row] != _NOTHING) & (last_closing <= self._closing_before[row])
        return np.flatnonzero(is_open), row[is_open]

    def region_of(self, row: Ints) -> Ints:
        """The latest region named in the window of reports that each row closes; -1 where none was."""
        index = np.arange(self.region.size)
        named = np.maximum.accumulate(np.where(self.region != ABSENT, index, -1)) if index.size else index
        is_within = named[row] > row - self.window[row]
        return np.where(is_within, self.region[named[row]], ABSENT)

    def naming_row(self, row: int, window: int) -> int | None:
        """Of the `window` reports up to a row the latest that names a region."""
        named = np.flatnonzero(self.region[row + 1 - window : row + 1] != ABSENT)
        return row + 1 - window + int(named[-1]) if named.size else None


def find_pain(reports: PainReports, cases: Cases) -> Found:
    """Findings of open pain; `row` is the latest report's row in PainReports, `count` the reports taken together.

    Reports of 1, 4, 3 (knee) give one row: subject knee, urgency ACT, count 2.
    """
    case, row = reports.latest_open(cases)
    return found(
        Kind.PAIN, cases, case,
        subject=reports.region_of(row), urgency=reports.urgency[row], row=row, count=reports.window[row],
    )


def _run_of(holds: np.ndarray, client: Ints, segment: Ints) -> Ints:
    """How many reports in a row, up to each, it holds for."""
    starts = run_starts(client, segment, holds.astype(np.int64))
    return np.where(holds, rank_in_run(starts) + 1, 0)


def _count_in_window(holds: np.ndarray, window: Ints) -> Ints:
    """How many of the last `window` rows, up to each, hold."""
    counted = np.concatenate([[0], np.cumsum(holds)])
    index = np.arange(holds.size)
    return counted[index + 1] - counted[index + 1 - window]
