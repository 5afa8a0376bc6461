"""The product's own functions on the work that is compared: everything of `assess` but the findings."""

from __future__ import annotations

import numpy as np
import pandas as pd

from analytics.assessment import exposures_until
from analytics.frame_schema import Record
from analytics.history import History, build_history
from analytics.session_status import session_statuses
from analytics.table import Table
from analytics.week_figures import week_figures
from tests.bench.agreement import Tables

Answer = tuple[History, Table, Table, Table]
_OF_OUTCOMES = ("planned_sets", "counted_sets", "planned_g", "dosed_g", "done_g")


def product_tables(record: Record) -> Answer:
    """Links, amounts, statuses, week figures and exposures with landings and rounds."""
    history = build_history(record)
    statuses = session_statuses(record, history.outcomes, history.thresholds)
    weeks = week_figures(record, history.outcomes, statuses, history.log_figures)
    return history, statuses, weeks, exposures_until(history)


def told_by_ids(answer: Answer) -> Tables:
    """The answer in the columns that engines are compared by; not part of the time."""
    history, statuses, weeks, exposures = answer
    log_ids = np.append(history.record.session_logs["log_id"], -1)
    client_ids = history.record.clients["client_id"]
    return {
        "logs": pd.concat([history.links.to_frame(), history.log_figures.to_frame()], axis=1),
        "sessions": statuses.with_columns({
            **{name: history.outcomes[name] for name in _OF_OUTCOMES},
            "log_id": log_ids[history.outcomes["log_row"]], "planned_minutes": history.planned_sessions["minutes"],
        }).to_frame(),
        "weeks": weeks.with_columns({"client_id": client_ids[weeks["client_row"]]}).to_frame(),
        "exposures": exposures.with_columns({
            "client_id": client_ids[exposures["client_row"]], "log_id": log_ids[exposures["log_row"]],
        }).to_frame(),
    }
