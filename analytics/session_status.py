"""Who showed up? What became of every planned session, as at a day.

Checked in this order: a log performed up to the day makes a session told, done or partial, also within a pause; a day
within a pause or before joining is not due; past what the client's way of sending allows it is missed; two days after
its suggested day it is overdue (for those who send each session) or awaited; else it is to come. Done, partial, told,
missed and overdue are due; turnout is attended / due. A partial session is never a miss.
"""

from __future__ import annotations

import numpy as np

from analytics.flag_thresholds import Thresholds
from analytics.frame_schema import Record, Sends, Status
from analytics.sorted_keys import Bools, Ints
from analytics.table import Table
from analytics.training_weeks import DAYS_IN_WEEK

UNATTENDED = (Status.MISSED, Status.OVERDUE)
EACH_ROW = slice(None)
# What a status follows from, beside the day and the client's way of sending.
STATUS_COLUMNS = [
    "performed_day", "has_details", "set_completion", "is_excused", "missed_from_day", "waited_from_day",
]


def session_statuses(record: Record, outcomes: Table, thresholds: Thresholds) -> Table:
    """One row a planned session, in the order given, as at its client's as_of_day.

    Columns: session_id, status, set_completion (NaN where there is none), is_done_later, performed_day (-1), is_due.
    A session suggested for Monday without a log is overdue on Wednesday and missed from the next Monday on.
    """
    client_row = outcomes["client_row"]
    as_of = record.clients["as_of_day"][client_row]
    sends = record.clients["sends"][client_row]
    status = statuses_on(outcomes, as_of, sends, thresholds)
    performed = outcomes["performed_day"]
    has_log = performed <= as_of
    sunday = outcomes["week_start_day"] + DAYS_IN_WEEK - 1
    completion = np.where(has_log, outcomes["set_completion"], np.nan)
    return Table(
        {
            "session_id": outcomes["session_id"],
            "status": status,
            "set_completion": np.where(np.isin(status, UNATTENDED), 0.0, completion),
            "is_done_later": has_log & (performed > sunday),
            "performed_day": np.where(has_log, performed, -1),
            "is_due": is_due(status),
        }
    )


def statuses_on(
    outcomes: Table, as_of: Ints, sends: Ints, thresholds: Thresholds, rows: Ints | slice = EACH_ROW
) -> Ints:
    """The status of each of the rows of `outcomes` as at its own day in `as_of`."""
    of = {name: outcomes[name][rows] for name in STATUS_COLUMNS}
    has_log = of["performed_day"] <= as_of
    is_waited_for = as_of >= of["waited_from_day"]
    return np.select(
        [
            has_log & ~of["has_details"],
            has_log & (of["set_completion"] >= thresholds.done_from_completion),
            has_log,
            of["is_excused"],
            as_of >= of["missed_from_day"],
            is_waited_for & (sends == Sends.EACH),
            is_waited_for,
        ],
        [
            Status.TOLD, Status.DONE, Status.PARTIAL, Status.NOT_DUE,
            Status.MISSED, Status.OVERDUE, Status.AWAITED,
        ],
        default=Status.TO_COME,
    ).astype(np.int64)


def is_attended(status: Ints) -> Bools:
    return status <= Status.TOLD


def is_due(status: Ints) -> Bools:
    return status <= Status.OVERDUE
