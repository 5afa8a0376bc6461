"""The record of one client out of many."""

from __future__ import annotations

from dataclasses import replace

import pandas as pd

from analytics.frame_schema import Record


def only_client(record: Record, client_id: int) -> Record:
    frames = record.to_frames()
    own: dict[str, pd.DataFrame] = {
        name: frame[frame["client_id"] == client_id].reset_index(drop=True)
        for name, frame in frames.items() if "client_id" in frame
    }
    own["planned_exercises"] = _of(frames["planned_exercises"], "session_id", own["planned_sessions"])
    own["set_targets"] = _of(frames["set_targets"], "planned_id", own["planned_exercises"])
    own["set_logs"] = _of(frames["set_logs"], "log_id", own["session_logs"])
    return replace(record, **own)


def _of(frame: pd.DataFrame, key: str, owners: pd.DataFrame) -> pd.DataFrame:
    return frame[frame[key].isin(owners[key])].reset_index(drop=True)
