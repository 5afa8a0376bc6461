"""What was the best set of each exercise in a span of days?

Of the sets that count for a plan - no warm-up, no second log, nothing done in place of the exercise - the one with the
highest e1RM; reps beyond the formula's range count as the most that it takes, but have no e1RM: 14 reps are never told
as less than 10 at that load. Without a load the one with the most reps, seconds or metres. Of equal ones the earliest.
"""

from __future__ import annotations

import numpy as np

from analytics.assessment import Assessment
from analytics.formula_range import MOST_FORMULA_REPS
from analytics.frame_schema import Measure, Standing
from analytics.sorted_keys import Bools, run_starts
from analytics.span_figures import Spans
from analytics.strength import DEFAULT_FORMULA, e1rm_kg
from analytics.table import Table

# Loads that are no mass: neither is heavier than the other.
_NO_MASS = -1


def find_best_sets(assessment: Assessment, spans: Spans, formula: str = DEFAULT_FORMULA) -> Table:
    """A row for each client and exercise: client_row, exercise_id, performed_day, load_g (-1 without a mass), reps,
    measure, sides, e1rm_kg (NaN beyond the formula's range). 8 and 9 reps at 20 kg: the 9.
    """
    history = assessment.history
    sets = history.matched_sets.rows(_counted_in(assessment, spans))
    planned = history.record.planned_exercises.rows(sets["planned_row"])
    client_row = history.record.client_row_of_log[sets["log_row"]]
    day = history.record.session_logs["performed_day"][sets["log_row"]]
    load_g = np.maximum(sets["load_code"], _NO_MASS)
    is_reps = planned["measure"] == Measure.REPS
    estimate = np.where(is_reps, e1rm_kg(sets["load_code"], sets["reps"], formula), np.nan)
    at_least = e1rm_kg(sets["load_code"], np.minimum(sets["reps"], MOST_FORMULA_REPS), formula)
    better = (-day, sets["reps"], load_g, np.nan_to_num(np.where(is_reps, at_least, np.nan), nan=-1.0))
    order = np.lexsort((*better, planned["exercise_id"], client_row))
    ends = np.roll(run_starts(client_row[order], planned["exercise_id"][order]), -1)
    best = order[ends]
    return Table(
        {
            "client_row": client_row[best],
            "exercise_id": planned["exercise_id"][best],
            "performed_day": day[best],
            "load_g": load_g[best],
            "reps": sets["reps"][best],
            "measure": planned["measure"][best],
            "sides": planned["sides"][best],
            "e1rm_kg": estimate[best],
        }
    )


def _counted_in(assessment: Assessment, spans: Spans) -> Bools:
    history = assessment.history
    sets, record = history.matched_sets, history.record
    client_row = record.client_row_of_log[sets["log_row"]]
    day = record.session_logs["performed_day"][sets["log_row"]]
    is_first = history.links["standing"][sets["log_row"]] == Standing.FIRST
    is_past = day <= record.clients["as_of_day"][client_row]
    return (sets["planned_row"] >= 0) & ~sets["is_swapped"] & is_first & is_past & spans.hold(client_row, day)
