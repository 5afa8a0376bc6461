"""What is known of every planned session whatever the day: its log, how much of it was done, when it falls due.

Set completion: the sum over planned exercises of min(working sets, planned sets) / the sum of planned sets. Dose: the
same with tonnage, over planned exercises with a load in kg. A swapped exercise counts for the one it replaced.
"""

from __future__ import annotations

import numpy as np

from analytics.flag_thresholds import Thresholds
from analytics.frame_schema import ABSENT, Record, Sends, Standing
from analytics.pause_days import PauseDays
from analytics.set_runs import SetRuns
from analytics.sorted_keys import Bools, Floats, Ints, positions_of, sum_by
from analytics.table import Table
from analytics.training_weeks import DAYS_IN_WEEK, week_start_day

NEVER = np.iinfo(np.int64).max // 4


def find_outcomes(
    record: Record,
    links: Table,
    matched_sets: Table,
    runs: SetRuns,
    planned: Table,
    pauses: PauseDays,
    thresholds: Thresholds,
) -> Table:
    """One row a planned session, in the order given, whatever the as-of day.

    Columns: session_id, client_row, week_start_day, suggested_day, log_row (-1), performed_day (NEVER without a log),
    has_details, is_excused (its day lies in a pause or before joining), missed_from_day, waited_from_day,
    planned_sets, counted_sets, set_completion (of the log; NaN without details), planned_g, dosed_g, done_g.
    """
    sessions = record.planned_sessions
    client_row = positions_of(sessions["client_id"], record.clients["client_id"])
    suggested = sessions["suggested_day"]
    log_row = _first_log_rows(record, links)
    performed, has_details = _of_log(record, log_row)
    joined = record.clients["joined_day"][client_row]
    amounts = _amounts(record, matched_sets, runs, planned)
    return Table(
        {
            "session_id": sessions["session_id"],
            "client_row": client_row,
            "week_start_day": week_start_day(suggested),
            "suggested_day": suggested,
            "log_row": log_row,
            "performed_day": performed,
            "has_details": has_details,
            "is_excused": pauses.covers(client_row, suggested) | (suggested < joined),
            "missed_from_day": _missed_from(record, client_row, thresholds),
            "waited_from_day": suggested + thresholds.overdue_after_days,
            "set_completion": _completion(has_details, amounts["counted_sets"], amounts["planned_sets"]),
            **amounts,
        },
    )


def _first_log_rows(record: Record, links: Table) -> Ints:
    """For each planned session the row of its log; -1 without one."""
    is_first = np.flatnonzero(links["standing"] == Standing.FIRST)
    session_row = positions_of(
        links["session_id"][is_first], record.planned_sessions["session_id"]
    )
    log_row = np.full(len(record.planned_sessions), ABSENT, dtype=np.int64)
    log_row[session_row[session_row >= 0]] = is_first[session_row >= 0]
    return log_row


def _of_log(record: Record, log_row: Ints) -> tuple[Ints, Bools]:
    """For each planned session the day of its log (NEVER without one), and whether that has details."""
    logs, has_log = record.session_logs, log_row >= 0
    performed = np.full(log_row.size, NEVER, dtype=np.int64)
    performed[has_log] = logs["performed_day"][log_row[has_log]]
    has_details = np.zeros(log_row.size, dtype=np.bool_)
    has_details[has_log] = logs["has_details"][log_row[has_log]]
    return performed, has_details


def _completion(has_details: Bools, counted_sets: Ints, planned_sets: Ints) -> Floats:
    """NaN without details; a session that asks for nothing is all done once it is logged."""
    completion = np.where(has_details, 1.0, np.nan)
    return np.divide(counted_sets, planned_sets, out=completion, where=has_details & (planned_sets > 0))


def _missed_from(record: Record, client_row: Ints, thresholds: Thresholds) -> Ints:
    """The first day on which a session without a log is past what its client's way of sending allows."""
    sessions = record.planned_sessions
    sunday = week_start_day(sessions["suggested_day"]) + DAYS_IN_WEEK - 1
    sends = record.clients["sends"][client_row]
    grace = thresholds.sending_grace_days
    last_day = np.select(
        [sends == Sends.WEEKLY, sends == Sends.BLOCK],
        [sunday + grace, sessions["block_end_day"] + grace],
        default=sunday,
    )
    return last_day + 1


def _amounts(
    record: Record, matched_sets: Table, runs: SetRuns, planned: Table
) -> dict[str, Ints]:
    """Sets and grams planned and done, summed over the planned exercises of each session."""
    exercises = record.planned_exercises
    session_row = record.session_row_of_planned
    count = len(record.planned_sessions)
    working_sets = runs.by_planned_row(runs.lengths)
    done_g = runs.by_planned_row(runs.sums(matched_sets["tonnage_g"]))
    planned_sets = exercises["sets"]
    planned_g = planned["tonnage_g"]
    done_g = np.where(exercises["load_code"] >= 0, done_g, 0)
    return {
        "planned_sets": sum_by(session_row, planned_sets, count),
        "counted_sets": sum_by(session_row, np.minimum(working_sets, planned_sets), count),
        "planned_g": sum_by(session_row, planned_g, count),
        "dosed_g": sum_by(session_row, np.minimum(done_g, planned_g), count),
        "done_g": sum_by(session_row, done_g, count),
    }
