"""Whom is a check-in call owed? From three days before it is due, when the questions go out, until it is held or moved.

To watch; to act on from a week after the due day. Never during a pause, and never to somebody who is not active.
"""

from __future__ import annotations

import numpy as np

from analytics.check_in_days import CheckInDays
from analytics.findings_schema import NO_SUBJECT, Cases, Found, Kind, Urgency, found
from analytics.history import History
from analytics.sorted_keys import ABSENT


def find_check_in_due(history: History, cases: Cases, calls: CheckInDays) -> Found:
    """`row` is the call's in `calls`, `count` the days since it was due: below zero while that is still to come."""
    thresholds = history.thresholds
    call = calls.awaited_on(cases.client_row, cases.day)
    late = cases.day - calls.due_on(cases.client_row, cases.day)
    holds = (
        (call != ABSENT)
        & (late >= -thresholds.check_in_ahead_days)
        & history.record.clients["is_active"][cases.client_row]
        & ~history.pauses.covers(cases.client_row, cases.day)
    )
    case = np.flatnonzero(holds)
    late = late[case]
    return found(
        Kind.CHECK_IN_DUE, cases, case,
        subject=NO_SUBJECT,
        urgency=np.where(late >= thresholds.check_in_late_days, Urgency.ACT, Urgency.WATCH),
        row=call[case],
        count=late,
    )
