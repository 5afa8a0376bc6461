"""Was what was asked met? One row for each planned exercise of a session that has a log with details.

A working set counts as met when it has the target reps and at least 99 % of the prescribed load (its own target where
sets have their own; reps alone without a load in kg). The exposure is met when as many sets as planned are. If not, the
reason is the first that holds of: not logged, lighter than asked, fewer sets, heavier than asked, fewer reps. A met
exposure in a stage that changed the rest, with a mean recorded rest above 1.25 of it, gets the remark REST_OVER.
"""

from __future__ import annotations

import numpy as np

from analytics.flag_thresholds import Thresholds
from analytics.frame_schema import ABSENT, Changed, Measure, Reason, Record, RepsLeft
from analytics.set_runs import SetRuns
from analytics.sorted_keys import Floats, Ints, order_by
from analytics.strength import DEFAULT_FORMULA, e1rm_kg
from analytics.table import Table

# Loads are whole grams: far below one, far above the rounding of a product.
ROUNDING_G = 1e-3
_ONLY_FOR_REASONS = ("sets_at_load", "has_heavier_set", "mean_rest_s")


def find_exposures(
    record: Record,
    outcomes: Table,
    matched_sets: Table,
    runs: SetRuns,
    thresholds: Thresholds,
    formula: str = DEFAULT_FORMULA,
) -> Table:
    """All exposures, whatever the as-of day, ordered by client, performed day, suggested day and position.

    Columns: planned_row, planned_id, client_row, exercise_id, log_row, performed_day, suggested_day, position,
    working_sets, sets_met, is_met, reason, tonnage_g, best_e1rm_kg (NaN), top_load_code, last_reps_over (reps of the
    last working set above its target), last_reps_left.
    3 x 8 at 20 kg answered by 8, 8, 7 at 20 kg: two sets met, not met, reason REPS_SHORT.
    """
    exposures = _ordered_exposures(record, outcomes)
    tally = _tally(record, runs, matched_sets, thresholds, formula)
    rows = exposures["planned_row"]
    done = {column: amounts[rows] for column, amounts in tally.items()}
    planned = record.planned_exercises
    done["is_met"] = done["sets_met"] >= planned["sets"][rows]
    done["reason"] = _reasons(planned, rows, done, thresholds)
    told = {column: amounts for column, amounts in done.items() if column not in _ONLY_FOR_REASONS}
    return Table(exposures | told)


def _ordered_exposures(record: Record, outcomes: Table) -> dict[str, Ints]:
    planned = record.planned_exercises
    session_row = record.session_row_of_planned
    planned_row = np.flatnonzero(outcomes["has_details"][session_row])
    session_row = session_row[planned_row]
    client_row = outcomes["client_row"][session_row]
    performed = outcomes["performed_day"][session_row]
    suggested = outcomes["suggested_day"][session_row]
    position, session_id = planned["position"][planned_row], planned["session_id"][planned_row]
    order = order_by(client_row, performed, suggested, position, session_id)
    return {
        "planned_row": planned_row[order],
        "planned_id": planned["planned_id"][planned_row][order],
        "client_row": client_row[order],
        "exercise_id": planned["exercise_id"][planned_row][order],
        "log_row": outcomes["log_row"][session_row][order],
        "performed_day": performed[order],
        "suggested_day": suggested[order],
        "position": position[order],
    }


def _tally(
    record: Record, runs: SetRuns, sets: Table, thresholds: Thresholds, formula: str
) -> dict[str, np.ndarray]:
    """Sums over the sets of each planned exercise, by its row."""
    load, reps, over = _loads_and_reps(sets)
    asked = _of_planned(record.planned_exercises["load_code"], sets)
    tolerance_g = asked * thresholds.load_tolerance
    is_at_load = (asked < 0) | (load >= asked - tolerance_g - ROUNDING_G)
    is_heavier = (asked >= 0) & (load > asked + tolerance_g + ROUNDING_G)
    tally = {
        "working_sets": runs.by_planned_row(runs.lengths),
        "sets_at_load": runs.by_planned_row(runs.sums(is_at_load)),
        "sets_met": runs.by_planned_row(runs.sums((over >= 0) & is_at_load)),
        "has_heavier_set": runs.by_planned_row(runs.sums(is_heavier)) > 0,
        "tonnage_g": runs.by_planned_row(runs.sums(sets["tonnage_g"])),
        "mean_rest_s": _mean_rest(runs, sets["rest_s"]),
        "best_e1rm_kg": _best_e1rm(record, runs, sets, formula),
        "top_load_code": runs.by_planned_row(runs.greatest(load), nothing=ABSENT),
    }
    # Of the set with the highest number in each row: reps above its target, and how many were left.
    return tally | {
        "last_reps_over": runs.by_planned_row(over[runs.last]),
        "last_reps_left": runs.by_planned_row(sets["reps_left"][runs.last], nothing=RepsLeft.UNKNOWN),
    }


def _loads_and_reps(sets: Table) -> tuple[Ints, Ints, Ints]:
    """Loads, reps, and reps above the target."""
    reps = sets["reps"]
    return sets["load_code"], reps, reps - sets["target_reps"]


def _of_planned(amounts: Ints, sets: Table) -> Ints:
    """An amount of the planned row of each set; 0 for sets that nobody planned."""
    return np.append(amounts, 0)[sets["planned_row"]]


def _mean_rest(runs: SetRuns, rest_s: Floats) -> Floats:
    is_known = ~np.isnan(rest_s)
    known = runs.sums(is_known)
    total = runs.float_sums(np.where(is_known, rest_s, 0.0))
    mean = np.divide(total, known, out=np.full(known.size, np.nan), where=known > 0)
    return runs.by_planned_row(mean, nothing=np.nan)


def _best_e1rm(record: Record, runs: SetRuns, sets: Table, formula: str) -> Floats:
    """The best set's estimate; only sets of reps, and none of a swapped exercise: its load says nothing of this one."""
    estimate = e1rm_kg(sets["load_code"], sets["reps"], formula)
    measure = _of_planned(record.planned_exercises["measure"], sets)
    is_told = (measure == Measure.REPS) & ~sets["is_swapped"] & ~np.isnan(estimate)
    best = runs.greatest(np.where(is_told, estimate, -np.inf))
    return runs.by_planned_row(np.where(np.isneginf(best), np.nan, best), nothing=np.nan)


def _reasons(planned: Table, rows: Ints, done: dict[str, np.ndarray], thresholds: Thresholds) -> Ints:
    asked_sets = planned["sets"][rows]
    done_sets, is_met = done["working_sets"], done["is_met"]
    is_rest_stage = planned["changed"][rows] == Changed.REST
    asked_rest_s = planned["rest_s"][rows]
    is_rest_over = is_rest_stage & (done["mean_rest_s"] > thresholds.rest_over * asked_rest_s)
    return np.select(
        [
            done_sets == 0,
            is_met & is_rest_over,
            is_met,
            done["sets_at_load"] < np.minimum(done_sets, asked_sets),
            done_sets < asked_sets,
            done["has_heavier_set"],
        ],
        [
            Reason.NOT_LOGGED, Reason.REST_OVER, Reason.NONE,
            Reason.LOAD_BELOW, Reason.SETS_SHORT, Reason.OTHER_LOAD,
        ],
        default=Reason.REPS_SHORT,
    ).astype(np.int64)
