"""Which planned exercise does a logged set count for, and how much was moved in it?

A working set has at least one rep (or second, or metre) and is no warm-up. The working sets of an exercise, in order of
their number, fill its planned rows in order of position; the last row takes what is left. A swapped exercise counts for
the one it replaced. Implements and sides are those of the planned exercise; for work that was not planned those of the
client's latest planned row of that exercise, else those of the studio's own exercise.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

from analytics.frame_schema import ABSENT, Record
from analytics.sorted_keys import Bools, Ints, dense_codes, positions_of, rank_in_run, run_ends, run_starts

# Wider than the working sets of one exercise in one session can be many.
_RANK_SPAN = 1_000_000


def match_sets(record: Record, links: pd.DataFrame) -> pd.DataFrame:
    """The working sets, ordered by log, exercise asked for and set number: set_row (in `set_logs`), log_row (in
    `session_logs`), planned_row (in `planned_exercises`, -1 when not planned), target_reps (0 when not planned),
    reps, load_code, tonnage_g (0 without a mass), body_tonnage_g, rest_s, reps_left, is_swapped.
    """
    set_row, log_row, set_rank = _ordered_working_sets(record)
    set_logs = record.set_logs
    asked = set_logs["asked_id"].to_numpy()[set_row]
    planned_row, rank_in_row = _planned_rows(record, links["session_id"].to_numpy()[log_row], asked, set_rank)
    implements, sides = _implements_and_sides(record, log_row, asked, planned_row)
    reps = set_logs["reps"].to_numpy()[set_row]
    load_code = set_logs["load_code"].to_numpy()[set_row]
    body_g = np.nan_to_num(set_logs["body_g"].to_numpy()[set_row])
    return pd.DataFrame(
        {
            "set_row": set_row,
            "log_row": log_row,
            "planned_row": planned_row,
            "target_reps": _target_reps(record, planned_row, rank_in_row),
            "reps": reps,
            "load_code": load_code,
            "tonnage_g": reps * np.maximum(load_code, 0) * implements * sides,
            "body_tonnage_g": reps * sides * np.rint(body_g).astype(np.int64),
            "rest_s": set_logs["rest_s"].to_numpy()[set_row],
            "reps_left": set_logs["reps_left"].to_numpy()[set_row],
            "is_swapped": set_logs["exercise_id"].to_numpy()[set_row] != asked,
        }
    )


def _ordered_working_sets(record: Record) -> tuple[Ints, Ints, Ints]:
    """Rows of working sets, rows of their logs, and the rank of each among those of its exercise in its log."""
    set_logs = record.set_logs
    is_working: Bools = (set_logs["reps"].to_numpy() >= 1) & ~set_logs["is_warm_up"].to_numpy()
    set_row = np.flatnonzero(is_working)
    log_row = positions_of(set_logs["log_id"].to_numpy()[set_row], record.session_logs["log_id"].to_numpy())
    asked = set_logs["asked_id"].to_numpy()[set_row]
    number, position = set_logs["number"].to_numpy()[set_row], set_logs["position"].to_numpy()[set_row]
    order = np.lexsort((position, number, asked, log_row))
    rank = rank_in_run(run_starts(log_row[order], asked[order]))
    return set_row[order], log_row[order], rank


def _planned_rows(record: Record, session: Ints, asked: Ints, set_rank: Ints) -> tuple[Ints, Ints]:
    """The planned row that each set fills (-1: not planned), and the set's rank within that row."""
    planned = record.planned_exercises
    plan_session, plan_exercise = planned["session_id"].to_numpy(), planned["exercise_id"].to_numpy()
    codes, _ = dense_codes(np.concatenate([plan_session, session]), np.concatenate([plan_exercise, asked]))
    plan_code, set_code = codes[: plan_session.size], codes[plan_session.size :]
    order = np.lexsort((planned["position"].to_numpy(), plan_code))
    filled_before = _filled_before(plan_code[order], planned["sets"].to_numpy()[order])
    keys = plan_code[order] * _RANK_SPAN + filled_before
    found = np.searchsorted(keys, set_code * _RANK_SPAN + set_rank, side="right") - 1
    if not order.size:
        return np.full(asked.shape, ABSENT, dtype=np.int64), set_rank
    at = np.maximum(found, 0)
    is_planned = (found >= 0) & (plan_code[order][at] == set_code) & (session != ABSENT)
    return np.where(is_planned, order[at], ABSENT), set_rank - np.where(is_planned, filled_before[at], 0)


def _filled_before(codes: Ints, sets: Ints) -> Ints:
    """Planned sets in earlier rows of the same exercise in the same session."""
    if not codes.size:
        return sets
    before = np.cumsum(sets) - sets
    starts = run_starts(codes)
    return before - np.maximum.accumulate(np.where(starts, before, 0))


def _target_reps(record: Record, planned_row: Ints, rank_in_row: Ints) -> Ints:
    """Each set's own target; a set beyond the last of several targets has the last one's."""
    planned, targets = record.planned_exercises, record.set_targets
    if not len(planned):
        return np.zeros(planned_row.shape, dtype=np.int64)
    reps = np.where(planned_row >= 0, planned["reps"].to_numpy()[planned_row], 0)
    if not len(targets):
        return reps
    number = np.minimum(rank_in_row + 1, planned["sets"].to_numpy()[planned_row])
    target_row = positions_of(targets["planned_id"].to_numpy(), planned["planned_id"].to_numpy())
    keys = target_row * _RANK_SPAN + targets["number"].to_numpy()
    at = positions_of(planned_row * _RANK_SPAN + number, keys)
    return np.where((at >= 0) & (planned_row >= 0), targets["reps"].to_numpy()[at], reps)


def _implements_and_sides(record: Record, log_row: Ints, asked: Ints, planned_row: Ints) -> tuple[Ints, Ints]:
    planned, exercises = record.planned_exercises, record.exercises
    source = np.where(planned_row >= 0, planned_row, _latest_planned_rows(record, log_row, asked))
    exercise_row = positions_of(asked, exercises["exercise_id"].to_numpy())
    found = []
    for column in ("implements", "sides"):
        amount = np.ones(asked.shape, dtype=np.int64)
        if len(exercises):
            amount = np.where(exercise_row >= 0, exercises[column].to_numpy()[exercise_row], amount)
        if len(planned):
            amount = np.where(source >= 0, planned[column].to_numpy()[source], amount)
        found.append(amount)
    return found[0], found[1]


def _latest_planned_rows(record: Record, log_row: Ints, asked: Ints) -> Ints:
    """The client's latest planned row of each exercise, by suggested day, then position; -1 where never planned."""
    planned, sessions = record.planned_exercises, record.planned_sessions
    if not len(planned) or not log_row.size:
        return np.full(asked.shape, ABSENT, dtype=np.int64)
    session_row = positions_of(planned["session_id"].to_numpy(), sessions["session_id"].to_numpy())
    plan_client = sessions["client_id"].to_numpy()[session_row]
    client = record.session_logs["client_id"].to_numpy()[log_row]
    codes, _ = dense_codes(
        np.concatenate([plan_client, client]), np.concatenate([planned["exercise_id"].to_numpy(), asked])
    )
    plan_code, set_code = codes[: plan_client.size], codes[plan_client.size :]
    suggested = sessions["suggested_day"].to_numpy()[session_row]
    by_time = (planned["session_id"].to_numpy(), planned["position"].to_numpy(), suggested)
    order = np.lexsort((*by_time, plan_code))
    ends = np.unique(run_ends(run_starts(plan_code[order])))
    at = positions_of(set_code, plan_code[order][ends])
    return np.where(at >= 0, order[ends][at], ABSENT)
