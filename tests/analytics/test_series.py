"""Every calculation on every sample series: it answers with the columns it documents, and changes nothing given."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields

import numpy as np
import pytest
from pandas.testing import assert_frame_equal

from analytics.assessment import assess, exposures_until
from analytics.exposures import find_exposures
from analytics.findings import Rules, find_findings
from analytics.findings_schema import Cases
from analytics.frame_schema import Record
from analytics.history import History, build_history
from analytics.landings import number_landings, number_rounds
from analytics.linking import link_logs
from analytics.planned_figures import planned_exercise_figures, planned_session_figures
from analytics.session_outcomes import find_outcomes
from analytics.session_status import session_statuses
from analytics.set_matching import match_sets
from analytics.set_runs import SetRuns
from analytics.strength import FORMULAS
from analytics.table import Table
from analytics.trends import find_trends, week_ratios
from analytics.week_figures import tally_logs, week_figures
from tests.analytics.answers import findings, turnout
from tests.analytics.series import (
    SERIES,
    empty_log,
    gone_quiet,
    returning_after_illness,
    single_session,
    steady_progress,
    three_week_stall,
)

COUNTS = ["due", "done", "partial", "told", "missed", "overdue", "awaited", "not_due"]
SUMS = ["counted_sets", "planned_sets", "planned_g", "dosed_g", "done_g", "timed_g", "timed_minutes", "timed_planned_g",
        "timed_planned_minutes"]
FINDING = ["client_row", "day", "kind", "subject", "urgency", "row", "count"]


def _weeks(past: History) -> Table:
    statuses = session_statuses(past.record, past.outcomes, past.thresholds)
    return week_figures(past.record, past.outcomes, statuses, past.log_figures)


def _found(past: History) -> Table:
    clients = past.record.clients
    return Rules(past).find(Cases(np.arange(len(clients)), clients["as_of_day"]))


def _runs(past: History) -> SetRuns:
    return SetRuns(past.matched_sets, past.links, len(past.record.planned_exercises))


def _outcomes(past: History) -> Table:
    return find_outcomes(
        past.record, past.links, past.matched_sets, _runs(past), past.planned_exercises, past.pauses, past.thresholds
    )


# Of every public function: how it is asked, and the columns of its answer.
FUNCTIONS: dict[str, tuple[Callable[[History], Table], list[str]]] = {
    "link_logs": (lambda past: link_logs(past.record), ["log_id", "session_id", "standing"]),
    "match_sets": (
        lambda past: match_sets(past.record, past.links),
        ["set_row", "log_row", "planned_row", "target_reps", "reps", "load_code", "tonnage_g", "body_tonnage_g",
         "rest_s", "reps_left", "is_swapped"],
    ),
    "planned_exercise_figures": (
        lambda past: planned_exercise_figures(past.record),
        ["planned_id", "total_reps", "tonnage_g", "work_s", "rest_s"],
    ),
    "planned_session_figures": (
        lambda past: planned_session_figures(past.record, past.planned_exercises),
        ["session_id", "sets", "tonnage_g", "minutes", "density_kg_min"],
    ),
    "find_outcomes": (
        _outcomes,
        ["session_id", "client_row", "week_start_day", "suggested_day", "log_row", "performed_day", "has_details",
         "is_excused", "missed_from_day", "waited_from_day", "set_completion", "planned_sets", "counted_sets",
         "planned_g", "dosed_g", "done_g"],
    ),
    "session_statuses": (
        lambda past: session_statuses(past.record, past.outcomes, past.thresholds),
        ["session_id", "status", "set_completion", "is_done_later", "performed_day", "is_due"],
    ),
    "find_exposures": (
        lambda past: find_exposures(past.record, past.outcomes, past.matched_sets, _runs(past), past.thresholds),
        ["planned_row", "planned_id", "client_row", "exercise_id", "log_row", "performed_day", "suggested_day",
         "position", "working_sets", "sets_met", "is_met", "reason", "tonnage_g", "best_e1rm_kg", "top_load_code",
         "last_reps_over", "last_reps_left"],
    ),
    "number_landings": (
        lambda past: Table({"landing": number_landings(past.record, past.exposures, past.thresholds)}), ["landing"],
    ),
    "number_rounds": (lambda past: number_rounds(past.record), ["planned_id", "round", "stage", "stages"]),
    "tally_logs": (
        lambda past: tally_logs(past.record, past.matched_sets, _runs(past), past.outcomes, past.planned_sessions),
        ["client_row", "performed_day", "has_details", "minutes", "effort", "working_sets", "tonnage_g",
         "body_tonnage_g", "planned_g", "planned_minutes", "has_timed_plan"],
    ),
    "week_figures": (
        _weeks,
        ["client_row", "week_start_day", *COUNTS, "turnout", "completion", "dose", "dose_uncapped", "tonnage_kg",
         "body_mass_tonnage_kg", "minutes", "density_kg_min", "session_load", *SUMS],
    ),
    "week_ratios": (
        lambda past: Table.of_frame(week_ratios(_weeks(past).to_frame())), ["completion", "dose", "density"],
    ),
    "find_trends": (
        lambda past: Table.of_frame(find_trends(_weeks(past).to_frame())),
        ["figure", "window_weeks", "level", "trend", "trend_low", "trend_high", "verdict"],
    ),
    "Rules.find": (_found, ["case", *FINDING]),
    "find_findings": (find_findings, [*FINDING, "opened_day"]),
    "exposures_until": (
        exposures_until,
        ["planned_row", "planned_id", "client_row", "exercise_id", "log_row", "performed_day", "suggested_day",
         "position", "working_sets", "sets_met", "is_met", "reason", "tonnage_g", "best_e1rm_kg", "top_load_code",
         "last_reps_over", "last_reps_left", "landing", "round", "stage", "stages"],
    ),
}


@pytest.mark.parametrize("series", SERIES)
@pytest.mark.parametrize("function", FUNCTIONS)
def test_every_function_answers_with_its_columns_and_finite_numbers(function: str, series: str):
    ask, columns = FUNCTIONS[function]

    told = ask(build_history(SERIES[series]()))

    assert set(told.names) == set(columns)
    assert not np.isinf(told.to_frame().select_dtypes("number").to_numpy(dtype=np.float64)).any()


@pytest.mark.parametrize("series", SERIES)
@pytest.mark.parametrize("formula", FORMULAS)
def test_nothing_that_it_is_given_is_changed(formula: str, series: str):
    record, untouched = SERIES[series](), SERIES[series]()

    assess(record, formula=formula)

    for field in fields(Record):
        assert_frame_equal(getattr(record, field.name).to_frame(), getattr(untouched, field.name).to_frame())


def test_steady_progress_is_all_done_and_nothing_to_worry_about():
    told = assess(steady_progress())

    assert set(told.weeks["turnout"][~np.isnan(told.weeks["turnout"])].tolist()) == {1}
    assert told.exposures["is_met"].all()
    assert set(findings(told)) <= {"plan_runs_out", "ready"}


def test_a_three_week_stall_is_to_act_on():
    assert findings(assess(three_week_stall()))["stall"] == "act"


def test_somebody_gone_quiet_is_found():
    assert turnout(assess(gone_quiet())) == "silent"


def test_returning_after_an_illness_is_no_stall_and_no_turnout_finding():
    told = findings(assess(returning_after_illness()))

    assert "turnout" not in told
    assert "stall" not in told


def test_a_single_session_says_what_it_can():
    told = assess(single_session())

    assert len(told.exposures) == 2
    assert findings(told)["pain"] == "watch"


def test_an_empty_log_is_somebody_who_has_not_started():
    told = assess(empty_log())

    assert turnout(told) == "not_started"
    assert not len(told.exposures)
    assert np.isnan(told.weeks["tonnage_kg"]).all()
