"""Which load steps did somebody take?

A step is a landing with a higher prescribed load than the landing before it, on which some exposure was lifted at that
load (99 % of it counts). It was taken on the day of the first such exposure; a step back and up again is a step again.
"""

from __future__ import annotations

import numpy as np

from analytics.exposures import ROUNDING_G
from analytics.history import History
from analytics.landings import NO_LANDING
from analytics.sorted_keys import order_by, run_starts
from analytics.table import Table


def find_load_steps(history: History) -> Table:
    """A row for each step, by client and exercise: client_row, exercise_id, from_load_g, to_load_g, taken_day.

    Whatever the as-of day: a step taken later was not taken before. Asked for 20, 20, 22 kg and lifted as asked: one
    step, from 20 to 22 kg, on the day of the third.
    """
    exposures = history.exposures
    kept = np.flatnonzero(exposures["landing"] != NO_LANDING)
    load = history.record.planned_exercises["load_code"][exposures["planned_row"]]
    order = kept[order_by(exposures["client_row"][kept], exposures["exercise_id"][kept])]
    client, exercise = exposures["client_row"][order], exposures["exercise_id"][order]
    starts = np.flatnonzero(run_starts(client, exercise, exposures["landing"][order]))
    first = order[starts]
    is_same = np.zeros(first.size, dtype=np.bool_)
    is_same[1:] = (client[starts][1:] == client[starts][:-1]) & (exercise[starts][1:] == exercise[starts][:-1])
    before = np.roll(load[first], 1)
    is_up = is_same & (before >= 0) & (load[first] > before)
    taken_day = _taken_days(history, order, starts, load[order])
    up = np.flatnonzero(is_up & (taken_day >= 0))
    return Table(
        {
            "client_row": client[starts][up],
            "exercise_id": exercise[starts][up],
            "from_load_g": before[up],
            "to_load_g": load[first][up],
            "taken_day": taken_day[up],
        }
    )


def _taken_days(history: History, order: np.ndarray, starts: np.ndarray, load: np.ndarray) -> np.ndarray:
    """Of each landing the day of its first exposure that was lifted at its load; -1 without one."""
    exposures = history.exposures
    least = load - load * history.thresholds.load_tolerance - ROUNDING_G
    is_lifted = (load >= 0) & (exposures["working_sets"][order] > 0) & (exposures["top_load_code"][order] >= least)
    never = np.iinfo(np.int64).max
    day = np.where(is_lifted, exposures["performed_day"][order], never)
    earliest = np.minimum.reduceat(day, starts) if starts.size else day
    return np.where(earliest == never, -1, earliest)
