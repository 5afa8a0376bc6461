"""The peer: the same tables by Polars, tuned. Joins on one integer key, sets ranked only where a rank decides anything,
each set looked at once; lazily, so that the optimiser may do what it can.
"""

from __future__ import annotations

import pandas as pd
import polars as pl

from analytics.frame_schema import Record
from tests.bench.polars_plan import Plan, first_of_run, latest_of, plan_of
from tests.bench.polars_tables import build_exposures, build_sessions, build_weeks

Frames = dict[str, pl.DataFrame]
LINK_KEY = ["log_id", "session_id"]
# Wider than any set can be above or below its target.
OVER_SPAN = 1 << 20


def polars_frames(record: Record) -> Frames:
    """The record as a user of Polars would hold it: null for what is not there."""
    frames = {name: pl.from_pandas(frame, nan_to_null=True) for name, frame in record.to_frames().items()}
    given = pl.when(pl.col("given_session_id") >= 0).then("given_session_id")
    return frames | {"session_logs": frames["session_logs"].with_columns(given_session_id=given)}


def polars_tables(frames: Frames) -> Frames:
    plan = plan_of(frames)
    logs = _link(frames, plan)
    tally, of_logs = _tally_sets(frames, plan, logs)
    logs = logs.join(of_logs, on="log_id", how="left").with_columns(
        pl.col("working_sets", "tonnage_g", "body_tonnage_g").fill_null(0)
    )
    sessions = build_sessions(frames, plan, logs, tally)
    return {
        "logs": logs,
        "sessions": sessions,
        "weeks": build_weeks(frames, sessions, logs),
        "exposures": build_exposures(frames, plan, sessions, logs, tally),
    }


def monday(day: str) -> pl.Expr:
    return pl.col(day) - (pl.col(day) + 3) % 7


def _link(frames: Frames, plan: Plan) -> pl.DataFrame:
    """Logs with session_id (null: extra) and standing, 0 the session's log, 1 a second one, 2 an extra session."""
    logs = frames["session_logs"].lazy().with_columns(week_start_day=monday("performed_day"))
    unnamed = logs.filter(pl.col("given_session_id").is_null()).select(
        "log_id", "performed_day", week=pl.col("client_id") * plan.week_span + pl.col("week_start_day")
    )
    of_logs = (
        frames["set_logs"].lazy().select("log_id", exercise_id="asked_id").join(unnamed, on="log_id")
        .with_columns(key=pl.col("week") * plan.exercise_span + pl.col("exercise_id")).unique(["log_id", "exercise_id"])
    )
    of_plan = plan.rows.lazy().select("session_id", "suggested_day", key="week_key").unique(["session_id", "key"])
    distance = (pl.col("suggested_day") - pl.col("performed_day")).abs()
    found = (
        of_logs.join(of_plan, on="key")
        .group_by(LINK_KEY)
        .agg(shared=pl.len(), distance=distance.first(), suggested_day=pl.first("suggested_day"))
        .sort("shared", "distance", "suggested_day", "session_id", descending=[True, False, False, False])
        .unique("log_id", keep="first", maintain_order=True)
        .select("log_id", found_session_id="session_id")
    )
    linked = (
        logs.join(found, on="log_id", how="left")
        .with_columns(
            session_id=pl.coalesce("given_session_id", "found_session_id"),
            is_found=pl.col("given_session_id").is_null(),
        )
        .sort("performed_day", "is_found", "filed")
        .with_columns(
            standing=pl.when(pl.col("session_id").is_null()).then(2)
            .when(pl.col("session_id").is_first_distinct()).then(0).otherwise(1)
        )
    )
    return linked.collect()


def _tally_sets(frames: Frames, plan: Plan, logs: pl.DataFrame) -> tuple[pl.DataFrame, pl.DataFrame]:
    """What was done on each planned row by the session's own log, and what was moved in each log.

    Sets are taken in three parts, so that none is copied: those whose exercise says which planned row is theirs, those
    whose rank has to say it, and those that nobody planned.
    """
    sets = (
        frames["set_logs"].lazy()
        .filter((pl.col("reps") >= 1) & ~pl.col("is_warm_up"))
        .join(logs.lazy().select("log_id", "client_id", "session_id", "standing"), on="log_id", how="left")
        .with_columns(
            key=pl.col("session_id") * plan.exercise_span + pl.col("asked_id"),
            place=pl.col("number") * 65536 + pl.col("position"),
            is_swapped=pl.col("exercise_id") != pl.col("asked_id"),
        )
        .select("log_id", "client_id", "standing", "key", "asked_id", "place", "reps", "load_code", "rest_s",
                "reps_left", "body_g", "is_swapped")
        .join(plan.asked_once.lazy(), on="key", how="left")
        .collect()
        .lazy()
    )
    ranked = _ranked(sets.filter("needs_rank"), plan).collect().lazy()
    plain = sets.filter(~pl.col("needs_rank")).with_columns(target_reps="planned_reps")
    extra = _extra(frames, plan, sets.filter(pl.col("needs_rank").is_null()).collect())
    moved = pl.concat([_moved(part) for part in (plain, ranked, extra)])
    *tallies, of_logs = pl.collect_all([
        _tally(plain), _tally(ranked),
        moved.group_by("log_id").agg(
            working_sets=pl.len(), tonnage_g=pl.sum("tonnage_g"), body_tonnage_g=pl.sum("body_tonnage_g")
        ),
    ])
    return pl.concat(tallies), of_logs


def _ranked(sets: pl.LazyFrame, plan: Plan) -> pl.LazyFrame:
    """Those whose place among the sets of their exercise says which planned row, or which target, is theirs."""
    return (
        sets.drop([name for name in plan.asked_once.columns if name != "key"])
        .sort("log_id", "asked_id", "place")
        .with_row_index("rank")
        .with_columns(rank=pl.col("rank").cast(pl.Int64))
        .with_columns(rank=pl.col("rank") - first_of_run("rank", "log_id", "asked_id"))
        .sort("rank")
        .join_asof(
            plan.ranked.lazy(), left_on="rank", right_on="sets_before", by="key", strategy="backward",
            check_sortedness=False,
        )
        .with_columns(number_in_row=pl.min_horizontal(pl.col("rank") - pl.col("sets_before") + 1, "planned_sets"))
        .join(plan.targets.lazy(), on=["planned_id", "number_in_row"], how="left")
        .with_columns(target_reps=pl.coalesce("own_reps", "planned_reps"))
    )


def _extra(frames: Frames, plan: Plan, sets: pl.DataFrame) -> pl.LazyFrame:
    """Implements and sides of the client's latest planned row of that exercise, else the exercise's own."""
    extra = sets.with_columns(client_key=pl.col("client_id") * plan.exercise_span + pl.col("asked_id"))
    own = frames["exercises"].select(asked_id="exercise_id", own_implements="implements", own_sides="sides")
    return (
        extra.lazy()
        .join(latest_of(plan.rows, plan.exercise_span, extra).lazy(), on="client_key", how="left")
        .join(own.lazy(), on="asked_id", how="left")
        .with_columns(
            implements=pl.coalesce("latest_implements", "own_implements", 1),
            sides=pl.coalesce("latest_sides", "own_sides", 1),
        )
    )


def _moved(sets: pl.LazyFrame) -> pl.LazyFrame:
    return sets.select("log_id", tonnage_g=_tonnage(), body_tonnage_g=_body_tonnage())


def _tonnage() -> pl.Expr:
    return pl.col("reps") * pl.col("load_code").clip(lower_bound=0) * pl.col("implements") * pl.col("sides")


def _body_tonnage() -> pl.Expr:
    return pl.col("reps") * pl.col("sides") * pl.col("body_g").fill_null(0).round().cast(pl.Int64)


def _tally(sets: pl.LazyFrame) -> pl.LazyFrame:
    load, asked, reps = pl.col("load_code"), pl.col("asked_load"), pl.col("reps")
    is_at_load = (asked < 0) | (load * 100 >= asked * 99)
    kilograms = load / 1000
    estimate = (
        pl.when(pl.col("planned_is_in_reps") & ~pl.col("is_swapped") & (load >= 0) & (reps <= 10))
        .then(pl.when(reps == 1).then(kilograms).otherwise(kilograms * (1 + reps / 30)))
    )
    return (
        sets.filter(pl.col("standing") == 0)
        .select(
            "planned_id", "rest_s", "load_code", is_at_load=is_at_load, estimate=estimate, tonnage_g=_tonnage(),
            is_met=is_at_load & (reps >= pl.col("target_reps")), is_heavier=(asked >= 0) & (load * 100 > asked * 101),
            last=_packed(pl.col("place"), reps - pl.col("target_reps"), pl.col("reps_left")),
        )
        .group_by("planned_id")
        .agg(
            working_sets=pl.len(), sets_at_load=pl.sum("is_at_load"), sets_met=pl.sum("is_met"),
            has_heavier_set=pl.any("is_heavier"), done_g=pl.sum("tonnage_g"), mean_rest_s=pl.mean("rest_s"),
            best_e1rm_kg=pl.max("estimate"), top_load_code=pl.max("load_code"), last=pl.max("last"),
        )
        .with_columns(
            last_reps_over=pl.col("last") // 8 % OVER_SPAN - OVER_SPAN // 2, last_reps_left=pl.col("last") % 8 - 1
        )
        .drop("last")
    )


def _packed(place: pl.Expr, over: pl.Expr, left: pl.Expr) -> pl.Expr:
    """One number whose greatest of a group tells what goes with its greatest place: cheaper than to look that up."""
    return (place * OVER_SPAN + over + OVER_SPAN // 2) * 8 + left + 1


def told_by_polars(tables: Frames) -> dict[str, pd.DataFrame]:
    """The answer in the columns that engines are compared by; not part of the time."""
    return {
        name: pd.DataFrame({column.name: column.to_numpy() for column in table})
        for name, table in tables.items()
    }
