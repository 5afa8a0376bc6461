"""The product's answers in the form of the oracle's: by ids, in one order."""

from __future__ import annotations

import numpy as np
import pandas as pd

from analytics.assessment import Assessment
from analytics.table import Table


def product_answers(assessment: Assessment) -> dict[str, pd.DataFrame]:
    history = assessment.history
    log_ids = history.record.session_logs["log_id"]
    client_ids = history.record.clients["client_id"]
    logs = history.log_figures.to_frame().assign(log_id=log_ids)
    outcomes = history.outcomes.to_frame().assign(
        log_id=_ids(log_ids, history.outcomes["log_row"]),
        planned_minutes=history.planned_sessions["minutes"],
    )
    exposures = assessment.exposures.to_frame().assign(
        client_id=client_ids[assessment.exposures["client_row"]],
        log_id=_ids(log_ids, assessment.exposures["log_row"]),
    )
    return {
        "links": history.links.to_frame().sort_values("log_id"),
        "logs": logs.sort_values("log_id"),
        "statuses": assessment.statuses.to_frame().sort_values("session_id"),
        "outcomes": outcomes.sort_values("session_id"),
        "weeks": _with_client(assessment.weeks, client_ids).sort_values(["client_id", "week_start_day"]),
        "exposures": exposures.sort_values("planned_id"),
        "findings": _with_client(assessment.findings, client_ids).sort_values(["client_id", "kind", "subject"]),
    }


def _with_client(table: Table, client_ids: np.ndarray) -> pd.DataFrame:
    return table.to_frame().assign(client_id=client_ids[table["client_row"]])


def _ids(ids: np.ndarray, rows: np.ndarray) -> np.ndarray:
    """The id in each row; -1 for row -1."""
    return np.append(ids, -1)[rows]
