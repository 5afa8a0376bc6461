"""Everything the desk shows of some clients, as at each client's as_of_day, from one pass over their record."""

from __future__ import annotations

from dataclasses import dataclass

from analytics.findings import Rules, find_findings
from analytics.flag_thresholds import Thresholds
from analytics.frame_schema import Record
from analytics.history import History, build_history
from analytics.session_status import session_statuses
from analytics.strength import DEFAULT_FORMULA
from analytics.table import Table
from analytics.week_figures import week_figures


@dataclass(frozen=True)
class Assessment:
    """Tables as at the as-of day; see `session_statuses`, `week_figures`, `find_exposures` and `find_findings`."""

    history: History
    rules: Rules
    statuses: Table
    weeks: Table
    exposures: Table
    findings: Table


def assess(record: Record, thresholds: Thresholds | None = None, formula: str = DEFAULT_FORMULA) -> Assessment:
    """Statuses, week figures, exposures and findings; the same function serves one client and ten thousand."""
    history = build_history(record, thresholds, formula)
    rules = Rules(history)
    statuses = session_statuses(record, history.outcomes, history.thresholds)
    return Assessment(
        history=history,
        rules=rules,
        statuses=statuses,
        weeks=week_figures(record, history.outcomes, statuses, history.log_figures),
        exposures=exposures_until(history),
        findings=find_findings(history, rules),
    )


def exposures_until(history: History) -> Table:
    """The exposures performed up to their client's as_of_day."""
    as_of = history.record.clients["as_of_day"]
    exposures = history.exposures
    is_past = exposures["performed_day"] <= as_of[exposures["client_row"]]
    return exposures.rows(is_past)
