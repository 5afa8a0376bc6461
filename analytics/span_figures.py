"""What did each client do in a span of days: a month, a block, any two dates?

The definitions are those of a week (`week_figures`), over other days: planned sessions by the day suggested for them,
logs by the day performed. So a span of whole weeks is the sum of its weeks, and a month that of its days. NaN is
unknown, never zero.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from analytics.assessment import Assessment
from analytics.frame_schema import Status
from analytics.session_status import is_attended
from analytics.sorted_keys import Bools, Ints, dense_codes
from analytics.table import Table
from analytics.training_weeks import week_start_day
from analytics.week_figures import figures_of_performed, figures_of_planned, ratio


@dataclass(frozen=True)
class Spans:
    """Of each client, by their row, the first and the last day, both included; none where the last is before the first.

    >>> Spans(np.array([10]), np.array([12])).hold(np.array([0, 0]), np.array([12, 13])).tolist()
    [True, False]
    """

    first_day: Ints
    last_day: Ints

    def hold(self, client_row: Ints, day: Ints) -> Bools:
        """Whether each day lies in its client's span."""
        return (self.first_day[client_row] <= day) & (day <= self.last_day[client_row])


def span_figures(assessment: Assessment, spans: Spans) -> Table:
    """One row a client, in the order of `clients`: the columns of `week_figures` but the week, and besides attended,
    done_later and logs, each a count.
    """
    outcomes, log_figures = assessment.history.outcomes, assessment.history.log_figures
    session = np.where(_sessions_in(assessment, spans), outcomes["client_row"], -1)
    log = np.where(_logs_in(assessment, spans), log_figures["client_row"], -1)
    return Table(_figures(assessment, session, log, spans.first_day.size))


def span_weeks(assessment: Assessment, spans: Spans) -> Table:
    """The same for each week of a span with a planned session or a log in it, cut where the span begins and ends.

    Columns: client_row, week_start_day, and those of `span_figures`.
    """
    outcomes, log_figures = assessment.history.outcomes, assessment.history.log_figures
    of_sessions, of_logs = _sessions_in(assessment, spans), _logs_in(assessment, spans)
    client = np.concatenate([outcomes["client_row"], log_figures["client_row"]])
    monday = np.concatenate([outcomes["week_start_day"], week_start_day(log_figures["performed_day"])])
    inside = np.concatenate([of_sessions, of_logs])
    codes, count = dense_codes(client[inside], monday[inside])
    week = np.full(inside.size, -1, dtype=np.int64)
    week[inside] = codes
    rows = {"client_row": np.zeros(count, dtype=np.int64), "week_start_day": np.zeros(count, dtype=np.int64)}
    rows["client_row"][codes], rows["week_start_day"][codes] = client[inside], monday[inside]
    session, log = week[: of_sessions.size], week[of_sessions.size :]
    return Table(rows | _figures(assessment, session, log, count))


def session_shares(assessment: Assessment, spans: Spans) -> Table:
    """A row for each due session of a span but told ones: client_row, completion, dose, density.

    Each is done / asked of that session alone, and NaN where nothing was asked or timed: what a comparison of two spans
    rests on. A session missed is 0 of its sets and of its load, and has no density.
    """
    outcomes, statuses = assessment.history.outcomes, assessment.statuses
    is_measured = statuses["is_due"] & (statuses["status"] != Status.TOLD)
    row = np.flatnonzero(is_measured & _sessions_in(assessment, spans))
    came = is_attended(statuses["status"][row])
    return Table(
        {
            "client_row": outcomes["client_row"][row],
            "completion": statuses["set_completion"][row],
            "dose": ratio(np.where(came, outcomes["dosed_g"][row], 0), outcomes["planned_g"][row]),
            "density": _densities(assessment, np.where(came, outcomes["log_row"][row], -1)),
        }
    )


def _figures(assessment: Assessment, session: Ints, log: Ints, count: int) -> dict[str, np.ndarray]:
    history = assessment.history
    planned = figures_of_planned(history.outcomes, assessment.statuses, history.log_figures, session, count)
    attended = planned["done"] + planned["partial"] + planned["told"]
    later = session[assessment.statuses["is_done_later"] & (session >= 0)]
    return (
        planned
        | figures_of_performed(history.log_figures, log, count)
        | {
            "attended": attended,
            "done_later": np.bincount(later, minlength=count),
            "logs": np.bincount(log[log >= 0], minlength=count),
        }
    )


def _sessions_in(assessment: Assessment, spans: Spans) -> Bools:
    outcomes = assessment.history.outcomes
    return spans.hold(outcomes["client_row"], outcomes["suggested_day"])


def _logs_in(assessment: Assessment, spans: Spans) -> Bools:
    log_figures = assessment.history.log_figures
    client_row, day = log_figures["client_row"], log_figures["performed_day"]
    as_of = assessment.history.record.clients["as_of_day"]
    return spans.hold(client_row, day) & (day <= as_of[client_row])


def _densities(assessment: Assessment, log_row: Ints) -> np.ndarray:
    """Of each log its density / that of its plan; NaN for row -1."""
    logs = assessment.history.log_figures
    if not len(logs):
        return np.full(log_row.size, np.nan)
    of_log = {name: logs[name][log_row] for name in ("tonnage_g", "minutes", "planned_g", "planned_minutes")}
    is_known = (log_row >= 0) & logs["has_timed_plan"][log_row]
    lifted = ratio(of_log["tonnage_g"], np.nan_to_num(of_log["minutes"]))
    asked = ratio(of_log["planned_g"], np.nan_to_num(of_log["planned_minutes"]))
    return np.where(is_known, ratio(lifted, np.nan_to_num(asked)), np.nan)
