"""Was what was asked met? One row for each planned exercise of a session that has a log with details.

A working set counts as met when it has the target reps and at least 99 % of the prescribed load (its own target where
sets have their own; reps alone without a load in kg). The exposure is met when as many sets as planned are. If not, the
reason is the first that holds of: not logged, lighter than asked, fewer sets, heavier than asked, fewer reps. A met
exposure in a stage that changed the rest, with a mean recorded rest above 1.25 of it, gets the remark REST_OVER.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

from analytics.flag_thresholds import Thresholds
from analytics.frame_schema import ABSENT, Changed, Measure, Reason, Record, RepsLeft, Standing
from analytics.sorted_keys import Bools, Floats, Ints, float_sum_by, positions_of, run_starts, sum_by
from analytics.strength import DEFAULT_FORMULA, e1rm_kg

# Loads are whole grams: far below one, far above the rounding of a product.
ROUNDING_G = 1e-3


def find_exposures(
    record: Record,
    links: pd.DataFrame,
    outcomes: pd.DataFrame,
    matched_sets: pd.DataFrame,
    thresholds: Thresholds,
    formula: str = DEFAULT_FORMULA,
) -> pd.DataFrame:
    """All exposures, whatever the as-of day, ordered by client, performed day, suggested day and position.

    Columns: planned_row, planned_id, client_row, exercise_id, log_row, performed_day, suggested_day, position,
    working_sets, sets_met, is_met, reason, tonnage_g, best_e1rm_kg (NaN), top_load_code, last_reps_over (reps of the
    last working set above its target), last_reps_left.
    3 x 8 at 20 kg answered by 8, 8, 7 at 20 kg: two sets met, not met, reason REPS_SHORT.
    """
    exposures = _ordered_exposures(record, outcomes)
    tally = _tally(record, links, matched_sets, thresholds, formula)
    rows = exposures["planned_row"].to_numpy()
    for column, amounts in tally.items():
        exposures[column] = amounts[rows]
    planned = record.planned_exercises
    exposures["is_met"] = exposures["sets_met"].to_numpy() >= planned["sets"].to_numpy()[rows]
    exposures["reason"] = _reasons(planned, rows, exposures, thresholds)
    return exposures.drop(columns=["sets_at_load", "has_heavier_set", "mean_rest_s"])


def _ordered_exposures(record: Record, outcomes: pd.DataFrame) -> pd.DataFrame:
    planned = record.planned_exercises
    session_row = positions_of(planned["session_id"].to_numpy(), record.planned_sessions["session_id"].to_numpy())
    planned_row = np.flatnonzero(outcomes["has_details"].to_numpy()[session_row])
    session_row = session_row[planned_row]
    client_row = outcomes["client_row"].to_numpy()[session_row]
    performed = outcomes["performed_day"].to_numpy()[session_row]
    suggested = outcomes["suggested_day"].to_numpy()[session_row]
    position, session_id = planned["position"].to_numpy()[planned_row], planned["session_id"].to_numpy()[planned_row]
    order = np.lexsort((session_id, position, suggested, performed, client_row))
    return pd.DataFrame(
        {
            "planned_row": planned_row[order],
            "planned_id": planned["planned_id"].to_numpy()[planned_row][order],
            "client_row": client_row[order],
            "exercise_id": planned["exercise_id"].to_numpy()[planned_row][order],
            "log_row": outcomes["log_row"].to_numpy()[session_row][order],
            "performed_day": performed[order],
            "suggested_day": suggested[order],
            "position": position[order],
        }
    )


def _tally(
    record: Record, links: pd.DataFrame, matched_sets: pd.DataFrame, thresholds: Thresholds, formula: str
) -> dict[str, np.ndarray]:
    """Sums over the sets of each planned exercise, by its row."""
    is_first = links["standing"].to_numpy()[matched_sets["log_row"].to_numpy()] == Standing.FIRST
    sets = matched_sets[is_first & (matched_sets["planned_row"].to_numpy() >= 0)]
    planned = record.planned_exercises
    row, count = sets["planned_row"].to_numpy(), len(planned)
    load, asked = sets["load_code"].to_numpy(), planned["load_code"].to_numpy()[sets["planned_row"].to_numpy()]
    tolerance_g = asked * thresholds.load_tolerance
    is_at_load = (asked < 0) | (load >= asked - tolerance_g - ROUNDING_G)
    is_heavier = (asked >= 0) & (load > asked + tolerance_g + ROUNDING_G)
    has_target = sets["reps"].to_numpy() >= sets["target_reps"].to_numpy()
    return {
        "working_sets": _count(row, np.ones(row.size, dtype=np.bool_), count),
        "sets_at_load": _count(row, is_at_load, count),
        "sets_met": _count(row, has_target & is_at_load, count),
        "has_heavier_set": _count(row, is_heavier, count) > 0,
        "tonnage_g": sum_by(row, sets["tonnage_g"].to_numpy(), count),
        "mean_rest_s": _mean_rest(row, sets["rest_s"].to_numpy(), count),
        "best_e1rm_kg": _best_e1rm(planned, sets, formula),
        "top_load_code": _top_load(row, load, count),
        **_last_sets(row, sets, count),
    }


def _count(row: Ints, holds: Bools, count: int) -> Ints:
    return np.bincount(row[holds], minlength=count).astype(np.int64)


def _mean_rest(row: Ints, rest_s: Floats, count: int) -> Floats:
    is_known = ~np.isnan(rest_s)
    total = float_sum_by(row[is_known], rest_s[is_known], count)
    known = _count(row, is_known, count)
    return np.divide(total, known, out=np.full(count, np.nan), where=known > 0)


def _best_e1rm(planned: pd.DataFrame, sets: pd.DataFrame, formula: str) -> Floats:
    """The best set's estimate; only sets of reps, and none of a swapped exercise: its load says nothing of this one."""
    row = sets["planned_row"].to_numpy()
    estimate = e1rm_kg(sets["load_code"].to_numpy(), sets["reps"].to_numpy(), formula)
    counts = (planned["measure"].to_numpy()[row] == Measure.REPS) & ~sets["is_swapped"].to_numpy()
    best = np.full(len(planned), -np.inf)
    is_known = counts & ~np.isnan(estimate)
    np.maximum.at(best, row[is_known], estimate[is_known])
    return np.where(np.isneginf(best), np.nan, best)


def _top_load(row: Ints, load: Ints, count: int) -> Ints:
    top = np.full(count, np.iinfo(np.int64).min)
    np.maximum.at(top, row, load)
    return np.where(top == np.iinfo(np.int64).min, ABSENT, top)


def _last_sets(row: Ints, sets: pd.DataFrame, count: int) -> dict[str, Ints]:
    """Of the set with the highest number in each row: reps above its target, and how many were left."""
    reps_over = np.zeros(count, dtype=np.int64)
    reps_left = np.full(count, RepsLeft.UNKNOWN, dtype=np.int64)
    if row.size:
        starts = run_starts(row)
        last = np.append(np.flatnonzero(starts)[1:], row.size) - 1
        over = sets["reps"].to_numpy() - sets["target_reps"].to_numpy()
        reps_over[row[last]] = over[last]
        reps_left[row[last]] = sets["reps_left"].to_numpy()[last]
    return {"last_reps_over": reps_over, "last_reps_left": reps_left}


def _reasons(planned: pd.DataFrame, rows: Ints, exposures: pd.DataFrame, thresholds: Thresholds) -> Ints:
    asked_sets = planned["sets"].to_numpy()[rows]
    done_sets = exposures["working_sets"].to_numpy()
    is_met = exposures["is_met"].to_numpy()
    is_rest_stage = planned["changed"].to_numpy()[rows] == Changed.REST
    asked_rest_s = planned["rest_s"].to_numpy()[rows]
    is_rest_over = is_rest_stage & (exposures["mean_rest_s"].to_numpy() > thresholds.rest_over * asked_rest_s)
    return np.select(
        [
            done_sets == 0,
            is_met & is_rest_over,
            is_met,
            exposures["sets_at_load"].to_numpy() < np.minimum(done_sets, asked_sets),
            done_sets < asked_sets,
            exposures["has_heavier_set"].to_numpy(),
        ],
        [
            Reason.NOT_LOGGED, Reason.REST_OVER, Reason.NONE,
            Reason.LOAD_BELOW, Reason.SETS_SHORT, Reason.OTHER_LOAD,
        ],
        default=Reason.REPS_SHORT,
    ).astype(np.int64)
