"""Which planned session does a log belong to?

A log that names its session belongs to it. Any other belongs to the planned session of the ISO week it was performed in
with which it shares most distinct exercises, warm-ups included; ties go to the nearest suggested day, then to the
earlier one; a log that shares none is an extra session. Of several logs of one session the first performed is its log,
the later ones are second logs; on one day a named link goes before a found one, then as filed.
"""

from __future__ import annotations

import numpy as np

from analytics.frame_schema import ABSENT, Record, Standing
from analytics.sorted_keys import Ints, dense_codes, expand_ranges, order_by, positions_of, rank_in_run, run_starts
from analytics.table import Table
from analytics.training_weeks import week_start_day


def link_logs(record: Record) -> Table:
    """One row a log, in the order of `session_logs`: log_id, session_id (-1 for an extra session), standing.

    A log performed on Tuesday with a squat, in a week that plans a squat on Monday and on Friday, belongs to Monday's:

    >>> # log 1: Tuesday, squat -> session of Monday, standing FIRST
    """
    logs = record.session_logs
    given = logs["given_session_id"]
    session = np.where(given != ABSENT, given, _found_sessions(record))
    return Table(
        {"log_id": logs["log_id"], "session_id": session, "standing": _standings(logs, session)},
    )


def _found_sessions(record: Record) -> Ints:
    """For every log without a named session the one that fits best; -1 for the others, and where none fits."""
    logs, sessions = record.session_logs, record.planned_sessions
    found = np.full(len(logs), ABSENT, dtype=np.int64)
    if not (logs["given_session_id"] == ABSENT).any():
        return found
    log_row, session_row, shared = _shared_exercises(record)
    distance = np.abs(
        sessions["suggested_day"][session_row] - logs["performed_day"][log_row]
    )
    suggested = sessions["suggested_day"][session_row]
    session_id = sessions["session_id"][session_row]
    best_first = order_by(log_row, -shared, distance, suggested, session_id)
    is_best = run_starts(log_row[best_first])
    found[log_row[best_first][is_best]] = session_id[best_first][is_best]
    return found


def _shared_exercises(record: Record) -> tuple[Ints, Ints, Ints]:
    """Pairs (row of log, row of session of its week) that share exercises, and how many distinct ones."""
    log_row, log_exercise = _exercises_of_unnamed_logs(record)
    session_row, session_exercise = _exercises_of_sessions(record)
    clients, weeks = record.session_logs["client_id"], record.session_logs["performed_day"]
    plan_clients = record.planned_sessions["client_id"]
    plan_weeks = record.planned_sessions["suggested_day"]
    codes, count = dense_codes(
        np.concatenate([clients[log_row], plan_clients[session_row]]),
        np.concatenate([week_start_day(weeks[log_row]), week_start_day(plan_weeks[session_row])]),
        np.concatenate([log_exercise, session_exercise]),
    )
    log_codes, plan_codes = codes[: log_row.size], codes[log_row.size :]
    order = order_by(plan_codes)
    planned_with_code = np.bincount(plan_codes, minlength=count)
    stops = np.cumsum(planned_with_code)[log_codes]
    owner, index = expand_ranges(stops - planned_with_code[log_codes], stops)
    return _count_pairs(log_row[owner], session_row[order[index]])


def _exercises_of_unnamed_logs(record: Record) -> tuple[Ints, Ints]:
    set_logs = record.set_logs
    log_id, asked = set_logs["log_id"], set_logs["asked_id"]
    # The sets of an exercise mostly stand side by side: one of them is enough.
    first = np.flatnonzero(run_starts(log_id, asked))
    log_row = positions_of(log_id[first], record.session_logs["log_id"])
    is_unnamed = record.session_logs["given_session_id"][log_row] == ABSENT if log_row.size else log_row >= 0
    return _distinct_pairs(log_row[is_unnamed], asked[first][is_unnamed])


def _exercises_of_sessions(record: Record) -> tuple[Ints, Ints]:
    planned = record.planned_exercises
    session_row = record.session_row_of_planned
    return _distinct_pairs(session_row, planned["exercise_id"])


def _distinct_pairs(first: Ints, second: Ints) -> tuple[Ints, Ints]:
    order = order_by(first, second)
    keep = order[run_starts(first[order], second[order])]
    return first[keep], second[keep]


def _count_pairs(first: Ints, second: Ints) -> tuple[Ints, Ints, Ints]:
    order = order_by(first, second)
    starts = np.flatnonzero(run_starts(first[order], second[order]))
    counts = np.diff(np.append(starts, order.size))
    return first[order][starts], second[order][starts], counts.astype(np.int64)


def _standings(logs: Table, session: Ints) -> Ints:
    is_found = logs["given_session_id"] == ABSENT
    order = order_by(session, logs["performed_day"], is_found, logs["filed"])
    rank = np.empty(order.size, dtype=np.int64)
    rank[order] = rank_in_run(run_starts(session[order]))
    standing = np.where(rank == 0, Standing.FIRST, Standing.SECOND)
    return np.where(session == ABSENT, Standing.EXTRA, standing).astype(np.int64)
