"""The simplest table by everybody: grams moved, sets and best load by client and week, from sets and logs alone."""

from __future__ import annotations

import numpy as np
import pandas as pd
import polars as pl

from analytics.frame_schema import Record
from analytics.sorted_keys import order_by, positions_of, run_starts
from analytics.training_weeks import week_start_day

WEEK = ["client_id", "week_start_day"]


def floor(record: Record) -> int:
    """No less can be done: each set's reps times its load, added up."""
    return int((record.set_logs["reps"] * record.set_logs["load_code"]).sum())


def by_kernel(record: Record) -> pd.DataFrame:
    """With the product's own joins and groups."""
    logs, sets = record.session_logs, record.set_logs
    is_working = (sets["reps"] >= 1) & ~sets["is_warm_up"]
    log_id = sets["log_id"]
    # Sets of a log stand together, so that sums a log come first and only logs are put in order.
    starts = np.flatnonzero(run_starts(log_id))
    grams = sets["reps"] * np.maximum(sets["load_code"], 0) * is_working
    log_row = positions_of(log_id[starts], logs["log_id"])
    client = logs["client_id"][log_row]
    week = week_start_day(logs["performed_day"][log_row])
    order = order_by(client, week)
    firsts = np.flatnonzero(run_starts(client[order], week[order]))
    return pd.DataFrame({
        "client_id": client[order][firsts], "week_start_day": week[order][firsts],
        "tonnage_g": np.add.reduceat(np.add.reduceat(grams, starts)[order], firsts),
        "sets": np.add.reduceat(np.add.reduceat(is_working, starts, dtype=np.int64)[order], firsts),
    }, copy=False)


def by_polars(frames: dict[str, pl.DataFrame]) -> pl.DataFrame:
    day = pl.col("performed_day")
    of_logs = (
        frames["set_logs"].lazy()
        .select(
            "log_id", is_working=(pl.col("reps") >= 1) & ~pl.col("is_warm_up"),
            grams=pl.col("reps") * pl.col("load_code").clip(lower_bound=0),
        )
        .group_by("log_id")
        .agg(tonnage_g=pl.col("grams").filter("is_working").sum(), sets=pl.col("is_working").sum())
    )
    return (
        frames["session_logs"].lazy()
        .select("log_id", "client_id", week_start_day=day - (day + 3) % 7)
        .join(of_logs, on="log_id")
        .group_by(WEEK).agg(pl.sum("tonnage_g", "sets"))
        .sort(WEEK).collect()
    )


def by_pandas(frames: dict[str, pd.DataFrame]) -> pd.DataFrame:
    sets, logs = frames["set_logs"], frames["session_logs"]
    week = logs["performed_day"] - (logs["performed_day"] + 3) % 7
    is_working = (sets["reps"] >= 1) & ~sets["is_warm_up"]
    sets = sets.assign(tonnage_g=(sets["reps"] * sets["load_code"].clip(lower=0)).where(is_working, 0), sets=is_working)
    logged = sets[["log_id", "tonnage_g", "sets"]].merge(
        logs.assign(week_start_day=week)[["log_id", *WEEK]], on="log_id"
    )
    return logged.groupby(WEEK)[["tonnage_g", "sets"]].sum().reset_index()
