"""Whether two engines say the same, row by row: integers exactly, ratios and means to nine digits."""

from __future__ import annotations

import pandas as pd
from pandas.testing import assert_frame_equal

from analytics.frame_schema import Status

# Of each table what tells its rows apart, and what is compared.
KEYS = {
    "logs": ["log_id"],
    "sessions": ["session_id"],
    "weeks": ["client_id", "week_start_day"],
    "exposures": ["planned_id"],
}
COLUMNS = {
    "logs": ["session_id", "standing", "working_sets", "tonnage_g", "body_tonnage_g"],
    "sessions": [
        "status", "is_due", "set_completion", "is_done_later", "log_id", "planned_sets", "counted_sets", "planned_g",
        "dosed_g", "done_g", "planned_minutes",
    ],
    "weeks": [
        "due", "done", "partial", "told", "missed", "overdue", "awaited", "not_due", "turnout", "completion", "dose",
        "dose_uncapped", "tonnage_kg", "body_mass_tonnage_kg", "minutes", "density_kg_min", "session_load",
        "counted_sets", "planned_sets", "planned_g", "dosed_g", "done_g", "timed_g", "timed_minutes", "timed_planned_g",
        "timed_planned_minutes",
    ],
    "exposures": [
        "client_id", "exercise_id", "log_id", "performed_day", "working_sets", "sets_met", "is_met", "reason",
        "tonnage_g", "best_e1rm_kg", "top_load_code", "last_reps_over", "last_reps_left", "landing", "stage", "stages",
    ],
}
# Ids that may be missing: nothing and -1 are the same.
_IDS = ("session_id", "log_id")

Tables = dict[str, pd.DataFrame]


def in_one_form(tables: Tables) -> Tables:
    return {name: _in_one_form(name, tables[name]) for name in KEYS}


def _in_one_form(name: str, table: pd.DataFrame) -> pd.DataFrame:
    table = table[[*KEYS[name], *COLUMNS[name]]]
    if name == "sessions":
        # A log performed after the day is none yet.
        table = table.assign(log_id=table["log_id"].where(table["status"] <= Status.TOLD))
    table = table.fillna(dict.fromkeys([column for column in _IDS if column in table], -1))
    return table.astype("float64").sort_values(KEYS[name], ignore_index=True)


def assert_agree(told: Tables, expected: Tables) -> None:
    """The integers here are far below 2^53, so that as floats they are still exact."""
    for name, table in in_one_form(expected).items():
        assert_frame_equal(in_one_form(told)[name], table, rtol=1e-9, atol=0, obj=name)
