"""Which planned exercise does a logged set count for, and how much was moved in it?

A working set has at least one rep (or second, or metre) and is no warm-up. The working sets of an exercise, in order of
their number, fill its planned rows in order of position; the last row takes what is left. A swapped exercise counts for
the one it replaced. Implements and sides are those of the planned exercise; for work that was not planned those of the
client's latest planned row of that exercise, else those of the studio's own exercise.
"""

from __future__ import annotations

import numpy as np

from analytics.frame_schema import ABSENT, Record
from analytics.sorted_keys import Bools, Ints, dense_codes, order_by, positions_of, rank_in_run, run_starts
from analytics.table import Table

# Wider than the working sets of one exercise in one session can be many.
_RANK_SPAN = 1_000_000


def match_sets(record: Record, links: Table) -> Table:
    """The working sets, log by log and in it exercise asked for by exercise, by set number: set_row (in `set_logs`),
    log_row (in `session_logs`), planned_row (in `planned_exercises`, -1 when not planned), target_reps (0 when not
    planned), reps, load_code, tonnage_g (0 without a mass), body_tonnage_g, rest_s, reps_left, is_swapped.
    """
    set_row, log_row = _ordered_working_sets(record)
    set_logs = record.set_logs
    asked = set_logs["asked_id"][set_row]
    starts = run_starts(log_row, asked)
    set_rank = rank_in_run(starts)
    planned_row, rank_in_row = _planned_rows(record, links, log_row, asked, starts, set_rank)
    implements, sides = _implements_and_sides(record, log_row, asked, planned_row)
    reps = set_logs["reps"][set_row]
    load_code = set_logs["load_code"][set_row]
    body_g = np.nan_to_num(set_logs["body_g"][set_row])
    return Table(
        {
            "set_row": set_row,
            "log_row": log_row,
            "planned_row": planned_row,
            "target_reps": _target_reps(record, planned_row, rank_in_row),
            "reps": reps,
            "load_code": load_code,
            "tonnage_g": reps * np.maximum(load_code, 0) * implements * sides,
            "body_tonnage_g": reps * sides * np.rint(body_g).astype(np.int64),
            "rest_s": set_logs["rest_s"][set_row],
            "reps_left": set_logs["reps_left"][set_row],
            "is_swapped": set_logs["exercise_id"][set_row] != asked,
        },
    )


def _ordered_working_sets(record: Record) -> tuple[Ints, Ints]:
    """Rows of working sets, and of their logs: the sets of an exercise in a log side by side, by their number."""
    set_logs = record.set_logs
    is_working: Bools = (set_logs["reps"] >= 1) & ~set_logs["is_warm_up"]
    set_row = np.flatnonzero(is_working)
    log_row = positions_of(set_logs["log_id"][set_row], record.session_logs["log_id"])
    asked = set_logs["asked_id"][set_row]
    number, position = set_logs["number"][set_row], set_logs["position"][set_row]
    if _is_in_order(log_row, asked, number):
        return set_row, log_row
    order = order_by(log_row, asked, number, position)
    return set_row[order], log_row[order]


def _is_in_order(log_row: Ints, asked: Ints, number: Ints) -> bool:
    """Whether sets stand as most people file them: log after log, exercise after exercise, set after set."""
    starts = run_starts(log_row, asked)
    rises = (number[1:] > number[:-1]) | starts[1:]
    if not rises.all() or (log_row[1:] < log_row[:-1]).any():
        return False
    # No exercise comes up again after another one.
    return dense_codes(log_row[starts], asked[starts])[1] == int(starts.sum())


def _planned_rows(
    record: Record, links: Table, log_row: Ints, asked: Ints, starts: Bools, set_rank: Ints
) -> tuple[Ints, Ints]:
    """The planned row that each set fills (-1: not planned), and the set's rank within that row.

    Looked up once for all sets of an exercise in a log; one by one only where a session asks for it twice.
    """
    planned = record.planned_exercises
    if not len(planned):
        return np.full(asked.shape, ABSENT, dtype=np.int64), set_rank
    first = np.flatnonzero(starts)
    session = links["session_id"][log_row[first]]
    plan_session, plan_exercise = planned["session_id"], planned["exercise_id"]
    codes, count = dense_codes(
        np.concatenate([plan_session, session]), np.concatenate([plan_exercise, asked[first]])
    )
    plan_code, code = codes[: plan_session.size], codes[plan_session.size :]
    order = order_by(plan_code, planned["position"])
    rows_with_code = np.bincount(plan_code, minlength=count)
    first_of_code = np.cumsum(rows_with_code) - rows_with_code
    is_planned = (rows_with_code[code] > 0) & (session != ABSENT)
    group = np.cumsum(starts) - 1
    at = np.where(is_planned, first_of_code[code], ABSENT)[group]
    filled_before = _filled_before(plan_code[order], planned["sets"][order])
    again = np.flatnonzero((is_planned & (rows_with_code[code] > 1))[group])
    keys = plan_code[order] * _RANK_SPAN + filled_before
    at[again] = np.searchsorted(keys, code[group[again]] * _RANK_SPAN + set_rank[again], side="right") - 1
    rank_in_row = set_rank.copy()
    rank_in_row[again] -= filled_before[at[again]]
    return np.where(at >= 0, order[at], ABSENT), rank_in_row


def _filled_before(codes: Ints, sets: Ints) -> Ints:
    """Planned sets in earlier rows of the same exercise in the same session."""
    before = np.cumsum(sets) - sets
    return before - np.maximum.accumulate(np.where(run_starts(codes), before, 0))


def _target_reps(record: Record, planned_row: Ints, rank_in_row: Ints) -> Ints:
    """Each set's own target; a set beyond the last of several targets has the last one's."""
    planned, targets = record.planned_exercises, record.set_targets
    if not len(planned):
        return np.zeros(planned_row.shape, dtype=np.int64)
    reps = np.where(planned_row >= 0, planned["reps"][planned_row], 0)
    if not len(targets):
        return reps
    target_row = positions_of(targets["planned_id"], planned["planned_id"])
    has_own = np.zeros(len(planned), dtype=np.bool_)
    has_own[target_row[target_row >= 0]] = True
    sets = np.flatnonzero((planned_row >= 0) & has_own[planned_row])
    rows = planned_row[sets]
    number = np.minimum(rank_in_row[sets] + 1, planned["sets"][rows])
    keys = target_row * _RANK_SPAN + targets["number"]
    at = positions_of(rows * _RANK_SPAN + number, keys)
    reps[sets[at >= 0]] = targets["reps"][at[at >= 0]]
    return reps


def _implements_and_sides(record: Record, log_row: Ints, asked: Ints, planned_row: Ints) -> tuple[Ints, Ints]:
    planned, exercises = record.planned_exercises, record.exercises
    extra = np.flatnonzero(planned_row < 0)
    source = _latest_planned_rows(record, log_row[extra], asked[extra])
    exercise_row = positions_of(asked[extra], exercises["exercise_id"])
    found = []
    for column in ("implements", "sides"):
        amount_of_extra = np.ones(extra.shape, dtype=np.int64)
        if len(exercises):
            amount_of_extra = np.where(exercise_row >= 0, exercises[column][exercise_row], amount_of_extra)
        if len(planned):
            amount_of_extra = np.where(source >= 0, planned[column][source], amount_of_extra)
        amount = planned[column][planned_row] if len(planned) else np.ones(asked.shape, dtype=np.int64)
        amount[extra] = amount_of_extra
        found.append(amount)
    return found[0], found[1]


def _latest_planned_rows(record: Record, log_row: Ints, asked: Ints) -> Ints:
    """The client's latest planned row of each exercise, by suggested day, then position; -1 where never planned."""
    planned, sessions = record.planned_exercises, record.planned_sessions
    if not len(planned) or not log_row.size:
        return np.full(asked.shape, ABSENT, dtype=np.int64)
    # Most exercises are planned whenever they are done: only the others have to be put in order.
    plan_row = np.flatnonzero(np.isin(planned["exercise_id"], asked))
    session_id, position = planned["session_id"][plan_row], planned["position"][plan_row]
    session_row = record.session_row_of_planned[plan_row]
    plan_client = sessions["client_id"][session_row]
    client = record.session_logs["client_id"][log_row]
    codes, count = dense_codes(
        np.concatenate([plan_client, client]), np.concatenate([planned["exercise_id"][plan_row], asked])
    )
    plan_code, set_code = codes[: plan_client.size], codes[plan_client.size :]
    wanted = np.zeros(count, dtype=np.bool_)
    wanted[set_code] = True
    kept = np.flatnonzero(wanted[plan_code])
    suggested = sessions["suggested_day"][session_row[kept]]
    order = kept[order_by(plan_code[kept], suggested, position[kept], session_id[kept])]
    latest = np.full(count, ABSENT, dtype=np.int64)
    # Later rows overwrite earlier ones: the last of each code stays.
    latest[plan_code[order]] = plan_row[order]
    return latest[set_code]
