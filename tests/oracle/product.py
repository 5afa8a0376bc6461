"""The product's answers in the form of the oracle's: by ids, in one order."""

from __future__ import annotations

import numpy as np
import pandas as pd

from analytics.assessment import Assessment


def product_answers(assessment: Assessment) -> dict[str, pd.DataFrame]:
    history = assessment.history
    log_ids = history.record.session_logs["log_id"].to_numpy()
    client_ids = history.record.clients["client_id"].to_numpy()
    logs = history.log_figures.assign(log_id=log_ids)
    outcomes = history.outcomes.assign(
        log_id=_ids(log_ids, history.outcomes["log_row"]),
        planned_minutes=history.planned_sessions["minutes"].to_numpy(),
    )
    exposures = assessment.exposures.assign(
        client_id=client_ids[assessment.exposures["client_row"]],
        log_id=_ids(log_ids, assessment.exposures["log_row"]),
    )
    return {
        "links": history.links.sort_values("log_id"),
        "logs": logs.sort_values("log_id"),
        "statuses": assessment.statuses.sort_values("session_id"),
        "outcomes": outcomes.sort_values("session_id"),
        "weeks": _with_client(assessment.weeks, client_ids).sort_values(["client_id", "week_start_day"]),
        "exposures": exposures.sort_values("planned_id"),
        "findings": _with_client(assessment.findings, client_ids).sort_values(["client_id", "kind", "subject"]),
    }


def _with_client(frame: pd.DataFrame, client_ids: np.ndarray) -> pd.DataFrame:
    return frame.assign(client_id=client_ids[frame["client_row"].to_numpy()])


def _ids(ids: np.ndarray, rows: pd.Series) -> np.ndarray:
    """The id in each row; -1 for row -1."""
    return np.append(ids, -1)[rows.to_numpy()]
