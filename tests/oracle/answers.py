"""What DuckDB makes of a record, table by table."""

from __future__ import annotations

from pathlib import Path

import duckdb
import pandas as pd

from analytics.frame_schema import Record

HERE = Path(__file__).parent
CALCULATIONS = ("rows", "links", "sets", "sessions", "weeks", "exposures")
FINDINGS = ("cases", "findings_of_clients", "findings_of_exercises", "findings")
# A row each, with what tells rows apart first.
TABLES = {
    "links": "select log_id, coalesce(session_id, -1) as session_id, standing from link order by 1",
    "logs": "select log_id, working_sets, tonnage_g, body_tonnage_g from log_amounts order by 1",
    "statuses": """
        select session_id, status, set_completion, is_done_later, is_due,
               if(status <= 2, performed_on - date '1970-01-01', -1) as performed_day
        from session_status order by 1""",
    "outcomes": """
        select session_id, coalesce(log_id, -1) as log_id, planned_sets, counted_sets, planned_g, dosed_g, done_g,
               planned_minutes
        from outcome order by 1""",
    "weeks": "select * from week_figures order by client_id, week_start_day",
    "exposures": """
        select planned_id, exposure.client_id, exercise_id, log_id, performed_on - date '1970-01-01' as performed_day,
               position, working_sets, sets_met, is_met, reason, tonnage_g, best_e1rm_kg, top_load_code, last_reps_over,
               last_reps_left, coalesce(landing, -1) as landing, coalesce(stage, -1) as stage,
               coalesce(stages, -1) as stages
        from exposure join client using (client_id) where performed_on <= as_of order by 1""",
    "findings": "select * from finding order by client_id, kind, subject",
}


def oracle_answers(record: Record) -> dict[str, pd.DataFrame]:
    """Every table of TABLES, from nothing but the record's rows."""
    with duckdb.connect() as engine:
        engine.execute("set threads = 1")
        for name, frame in record.to_frames().items():
            engine.register(name, frame)
        for name in (*CALCULATIONS, *FINDINGS):
            engine.execute((HERE / f"{name}.sql").read_text(encoding="utf-8"))
        return {name: engine.execute(query).df() for name, query in TABLES.items()}
