"""What does a planned session ask for, in kilograms and minutes?

Planned tonnage: the sum of targets x load x implements x sides. Planned minutes: 3 s a rep unless a tempo says so
(a second asked for takes a second, a metre is counted as one), both sides counted, rests between the sets, one minute
for every change of exercise and five minutes of warm-up. Missing: no load in kg -> no tonnage; a rest nobody
prescribed -> minutes unknown.
"""

from __future__ import annotations

import numpy as np

from analytics.frame_schema import Measure, Record
from analytics.sorted_keys import Ints, float_sum_by, order_by, positions_of, run_starts, sum_by
from analytics.table import Table

SECONDS_A_REP = 3.0
SECONDS_A_CHANGE_OF_EXERCISE = 60.0
SECONDS_OF_WARM_UP = 300.0
SECONDS_IN_MINUTE = 60.0


def planned_exercise_figures(record: Record) -> Table:
    """One row a planned exercise, in the order given: planned_id, total_reps, tonnage_g (0 without a mass), work_s,
    rest_s (NaN where a rest is needed and not prescribed).

    3 x 8 at 20 kg with 75 s of rest is 480 kg, 72 s of work and 150 s of rest.
    """
    planned = record.planned_exercises
    total_reps = _total_reps(record)
    sides = planned["sides"]
    load_g = np.maximum(planned["load_code"], 0)
    rests = np.maximum(planned["sets"] - 1, 0)
    rest_s = np.where(rests > 0, planned["rest_s"] * rests, 0.0)
    return Table(
        {
            "planned_id": planned["planned_id"],
            "total_reps": total_reps,
            "tonnage_g": total_reps * load_g * planned["implements"] * sides,
            "work_s": total_reps * sides * _seconds_a_rep(planned),
            "rest_s": rest_s,
        }
    )


def planned_session_figures(record: Record, exercises: Table) -> Table:
    """One row a planned session, in the order given: session_id, sets, tonnage_g, minutes, density_kg_min.

    `exercises` is what `planned_exercise_figures` gave. Minutes are NaN where unknown, density also without a load.
    """
    sessions = record.planned_sessions
    count = len(sessions)
    row = record.session_row_of_planned
    tonnage_g = sum_by(row, exercises["tonnage_g"], count)
    seconds = float_sum_by(row, exercises["work_s"] + exercises["rest_s"], count)
    changes_s = _changes_of_exercise(record, row, count) * SECONDS_A_CHANGE_OF_EXERCISE
    minutes = (seconds + changes_s + SECONDS_OF_WARM_UP) / SECONDS_IN_MINUTE
    return Table(
        {
            "session_id": sessions["session_id"],
            "sets": sum_by(row, record.planned_exercises["sets"], count),
            "tonnage_g": tonnage_g,
            "minutes": minutes,
            "density_kg_min": np.where(tonnage_g > 0, tonnage_g / 1000 / minutes, np.nan),
        }
    )


def _changes_of_exercise(record: Record, session_row: Ints, count: int) -> Ints:
    """How often each session goes on with another exercise than the one before."""
    planned = record.planned_exercises
    order = order_by(session_row, planned["position"])
    session, exercise = session_row[order], planned["exercise_id"][order]
    is_change = run_starts(session, exercise) & ~run_starts(session)
    return np.bincount(session[is_change], minlength=count).astype(np.int64)


def _total_reps(record: Record) -> Ints:
    planned, targets = record.planned_exercises, record.set_targets
    one_for_all = planned["sets"] * planned["reps"]
    if not len(targets):
        return one_for_all
    row = positions_of(targets["planned_id"], planned["planned_id"])
    of_its_own = sum_by(row, targets["reps"], len(planned))
    return np.where(of_its_own > 0, of_its_own, one_for_all)


def _seconds_a_rep(planned: Table) -> np.ndarray:
    tempo = planned["tempo_s"]
    seconds = np.where(np.isnan(tempo), SECONDS_A_REP, tempo)
    return np.where(planned["measure"] == Measure.REPS, seconds, 1.0)
