"""Everything about some clients that does not depend on the as-of day: links, exposures, landings, outcomes.

A log performed later never changes what an earlier one was to the plan, so a question about an earlier day is answered
by leaving out what came after it.
"""

from __future__ import annotations

from dataclasses import dataclass

from analytics.exposures import find_exposures
from analytics.flag_thresholds import Thresholds
from analytics.frame_schema import Record
from analytics.landings import number_landings, number_rounds
from analytics.linking import link_logs
from analytics.pause_days import PauseDays
from analytics.planned_figures import planned_exercise_figures, planned_session_figures
from analytics.session_outcomes import find_outcomes
from analytics.set_matching import match_sets
from analytics.set_runs import SetRuns
from analytics.strength import DEFAULT_FORMULA
from analytics.table import Table
from analytics.week_figures import tally_logs


@dataclass(frozen=True)
class History:
    """A record with what follows from it; see the functions named in `build_history` for each table."""

    record: Record
    thresholds: Thresholds
    pauses: PauseDays
    links: Table
    matched_sets: Table
    planned_exercises: Table
    planned_sessions: Table
    outcomes: Table
    # With landing, round, stage and stages beside what `find_exposures` gives.
    exposures: Table
    log_figures: Table


def build_history(record: Record, thresholds: Thresholds | None = None, formula: str = DEFAULT_FORMULA) -> History:
    """One pass over the sets of every client in `record`."""
    thresholds = thresholds or Thresholds()
    pauses = PauseDays(record)
    links = link_logs(record)
    matched_sets = match_sets(record, links)
    runs = SetRuns(matched_sets, links, len(record.planned_exercises))
    planned_exercises = planned_exercise_figures(record)
    planned_sessions = planned_session_figures(record, planned_exercises)
    outcomes = find_outcomes(record, links, matched_sets, runs, planned_exercises, pauses, thresholds)
    exposures = find_exposures(record, outcomes, matched_sets, runs, thresholds, formula)
    rounds, planned_row = number_rounds(record), exposures["planned_row"]
    exposures = exposures.with_columns({
        "landing": number_landings(record, exposures, thresholds),
        **{column: rounds[column][planned_row] for column in ("round", "stage", "stages")},
    })
    log_figures = tally_logs(record, matched_sets, runs, outcomes, planned_sessions)
    return History(
        record, thresholds, pauses, links, matched_sets, planned_exercises, planned_sessions,
        outcomes, exposures, log_figures,
    )
