"""Sessions, weeks and exposures by Polars, from linked logs and tallied sets."""

from __future__ import annotations

import polars as pl

from tests.bench.polars_plan import DELOAD, POSITION_SPAN, REST, WEEK_SPAN, Plan

Frames = dict[str, pl.DataFrame]
STATUSES = ("done", "partial", "told", "missed", "overdue", "awaited", "not_due")


def build_sessions(frames: Frames, plan: Plan, logs: pl.DataFrame, tally: pl.DataFrame) -> pl.DataFrame:
    sessions = frames["planned_sessions"].lazy()
    first_logs = logs.lazy().filter(pl.col("standing") == 0).select(
        "session_id", "log_id", "performed_day", "has_details", "minutes", log_g="tonnage_g"
    )
    done = pl.col("done_g").fill_null(0)
    has_load = pl.col("load_code") >= 0
    counted = (
        plan.rows.lazy().join(tally.lazy().select("planned_id", "working_sets", "done_g"), on="planned_id")
        .group_by("session_id")
        .agg(
            counted_sets=pl.min_horizontal("working_sets", "sets").sum(),
            dosed_g=pl.when(has_load).then(pl.min_horizontal("done_g", "planned_g")).otherwise(0).sum(),
            done_g=pl.when(has_load).then(done).otherwise(0).sum(),
        )
    )
    excused = (
        sessions.select("session_id", "client_id", "suggested_day").join(frames["pauses"].lazy(), on="client_id")
        .filter(pl.col("suggested_day").is_between("from_day", "until_day"))
        .select("session_id").unique().with_columns(is_paused=True)
    )
    suggested = pl.col("suggested_day")
    week_start = suggested - (suggested + 3) % 7
    has_log = pl.col("performed_day") <= pl.col("as_of_day")
    sent_by = (
        pl.when(pl.col("sends") == 1).then(pl.col("week_start_day") + 8)
        .when(pl.col("sends") == 2).then(pl.col("block_end_day") + 2).otherwise(pl.col("week_start_day") + 6)
    )
    is_waited_for = pl.col("as_of_day") >= suggested + 2
    status = (
        pl.when(has_log & ~pl.col("has_details")).then(2)
        .when(has_log & (pl.col("log_completion") >= 0.8)).then(0)
        .when(has_log).then(1)
        .when(pl.col("is_paused").fill_null(False) | (suggested < pl.col("joined_day"))).then(6)
        .when(pl.col("as_of_day") > sent_by).then(3)
        .when(is_waited_for & (pl.col("sends") == 0)).then(4)
        .when(is_waited_for).then(5)
        .otherwise(7)
    )
    amounts = ["planned_sets", "planned_g", "counted_sets", "dosed_g", "done_g"]
    planned_sets = pl.col("planned_sets")
    completion = pl.when(planned_sets > 0).then(pl.col("counted_sets") / planned_sets).otherwise(1.0)
    return (
        sessions.with_columns(week_start_day=week_start)
        .join(frames["clients"].lazy().select("client_id", "as_of_day", "joined_day", "sends"), on="client_id")
        .join(first_logs, on="session_id", how="left")
        .join(plan.session_amounts.lazy(), on="session_id", how="left")
        .join(counted, on="session_id", how="left")
        .join(excused, on="session_id", how="left")
        .with_columns(pl.col(amounts).fill_null(0), _minutes(plan))
        .with_columns(log_completion=pl.when("has_details").then(completion))
        .with_columns(status=status)
        .with_columns(
            is_due=pl.col("status") <= 4,
            set_completion=pl.when(pl.col("status").is_in([3, 4])).then(0.0).when(has_log).then("log_completion"),
            is_done_later=has_log.fill_null(False)
            & (pl.col("performed_day") > pl.col("week_start_day") + 6).fill_null(False),
        )
        .collect()
    )


def _minutes(plan: Plan) -> pl.Expr:
    """A session that asks for nothing is warm-up alone, which matters where nothing is planned at all."""
    minutes = pl.col("planned_minutes")
    return minutes if plan.rows.height else minutes.fill_null(5.0)


def build_weeks(frames: Frames, sessions: pl.DataFrame, logs: pl.DataFrame) -> pl.DataFrame:
    week = ["client_id", "week_start_day"]
    as_of = pl.col("as_of_day")
    status = pl.col("status")
    is_measured, is_attended = pl.col("is_due") & (status != 2), status <= 1
    is_timed = is_attended & pl.col("minutes").is_not_null() & (pl.col("planned_g") > 0)
    is_timed &= pl.col("planned_minutes").is_not_null()
    planned = (
        sessions.lazy()
        .filter(pl.col("week_start_day") <= as_of - (as_of + 3) % 7)
        .group_by(week)
        .agg(
            pl.sum("is_due").alias("due"),
            *[(status == code).sum().alias(name) for code, name in enumerate(STATUSES)],
            pl.col("set_completion").filter(is_measured).mean().alias("completion"),
            *[pl.col(name).filter(is_measured).sum() for name in ("planned_sets", "planned_g")],
            *[pl.col(name).filter(is_attended).sum() for name in ("counted_sets", "dosed_g", "done_g")],
            *[
                pl.col(name).filter(is_timed).sum().alias(alias)
                for name, alias in (
                    ("log_g", "timed_g"), ("minutes", "timed_minutes"), ("planned_g", "timed_planned_g"),
                    ("planned_minutes", "timed_planned_minutes"),
                )
            ],
        )
        .with_columns(
            turnout=pl.when(pl.col("due") > 0).then(pl.sum_horizontal("done", "partial", "told") / pl.col("due")),
            dose=pl.when(pl.col("planned_g") > 0).then(pl.col("dosed_g") / pl.col("planned_g")),
            dose_uncapped=pl.when(pl.col("planned_g") > 0).then(pl.col("done_g") / pl.col("planned_g")),
        )
    )
    performed = _performed_weeks(frames, logs)
    counts = [
        "due", *STATUSES, "planned_sets", "planned_g", "counted_sets", "dosed_g", "done_g", "timed_g", "timed_minutes",
        "timed_planned_g", "timed_planned_minutes",
    ]
    return planned.join(performed, on=week, how="full", coalesce=True).with_columns(
        pl.col(counts).fill_null(0)
    ).collect()


def _performed_weeks(frames: Frames, logs: pl.DataFrame) -> pl.LazyFrame:
    detailed, minutes = pl.col("has_details"), pl.col("minutes")
    is_timed = detailed & minutes.is_not_null()
    return (
        logs.lazy()
        .join(frames["clients"].lazy().select("client_id", "as_of_day"), on="client_id")
        .filter(pl.col("performed_day") <= pl.col("as_of_day"))
        .group_by("client_id", "week_start_day")
        .agg(
            grams=pl.col("tonnage_g").filter(detailed).sum(), detailed=detailed.sum(),
            body_g=pl.col("body_tonnage_g").filter(detailed).sum(), minutes=minutes.sum(), told=minutes.count(),
            timed_lifted_g=pl.col("tonnage_g").filter(is_timed).sum(), lifting=minutes.filter(is_timed).sum(),
            session_load=(pl.col("effort") * minutes).sum(), rated=(pl.col("effort") * minutes).count(),
        )
        .select(
            "client_id", "week_start_day",
            tonnage_kg=pl.when(pl.col("detailed") > 0).then(pl.col("grams") / 1000),
            body_mass_tonnage_kg=pl.when(pl.col("body_g") > 0).then(pl.col("body_g") / 1000),
            minutes=pl.when(pl.col("told") > 0).then("minutes"),
            density_kg_min=pl.when(pl.col("lifting") > 0).then(pl.col("timed_lifted_g") / 1000 / pl.col("lifting")),
            session_load=pl.when(pl.col("rated") > 0).then("session_load"),
        )
    )


def build_exposures(
    frames: Frames, plan: Plan, sessions: pl.DataFrame, logs: pl.DataFrame, tally: pl.DataFrame
) -> pl.DataFrame:
    of_sessions = sessions.lazy().filter("has_details").select("session_id", "log_id", "performed_day", "as_of_day")
    sets, asked_sets = pl.col("working_sets"), pl.col("sets")
    is_rest_over = (pl.col("changed") == REST) & (pl.col("mean_rest_s") > 1.25 * pl.col("rest_s")).fill_null(False)
    reason = (
        pl.when(sets == 0).then(1)
        .when(pl.col("is_met") & is_rest_over).then(6)
        .when("is_met").then(0)
        .when(pl.col("sets_at_load") < pl.min_horizontal(sets, asked_sets)).then(2)
        .when(sets < asked_sets).then(3)
        .when("has_heavier_set").then(4)
        .otherwise(5)
    )
    day = pl.col("performed_day")
    came_back = (pl.col("client_id") == pl.col("client_id").shift()) & (day - day.shift() >= 14)
    returns = (
        logs.lazy().select("log_id", "client_id", "performed_day").sort("client_id", "performed_day")
        .with_columns(returned_day=pl.when(came_back).then(day).forward_fill().over("client_id"))
        .select("log_id", "returned_day")
    )
    of_sessions = of_sessions.join(returns, on="log_id")
    exercise_span = 1 + (plan.rows["exercise_id"].max() or 0)
    exposures = (
        plan.rows.lazy()
        .select("planned_id", "session_id", "client_id", "exercise_id", "position", "suggested_day", "sets", "rest_s",
                "changed", "load_code")
        .join(of_sessions, on="session_id")
        .join(tally.lazy(), on="planned_id", how="left")
        .join(plan.rounds.lazy(), on="planned_id", how="left")
        .with_columns(
            pl.col("working_sets", "sets_at_load", "sets_met", "done_g", "last_reps_over").fill_null(0),
            pl.col("top_load_code", "last_reps_left", "stage", "stages").fill_null(-1),
        )
        .with_columns(is_met=pl.col("sets_met").cast(pl.Int64) >= asked_sets)
        .with_columns(reason=reason)
        .with_columns(
            of=pl.col("client_id") * exercise_span + pl.col("exercise_id"),
            time=(day * WEEK_SPAN + pl.col("suggested_day")) * POSITION_SPAN + pl.col("position"),
        )
        .sort("of", "time", "session_id")
        .with_row_index("nth")
    )
    is_off = pl.col("reason").is_in([1, 4]) | (pl.col("changed") == DELOAD)
    is_off |= (day - pl.col("returned_day") < 7).fill_null(False)
    of, load = pl.col("of"), pl.col("load_code")
    is_first = (of != of.shift()).fill_null(True)
    landings = (
        exposures.filter(~is_off)
        .select("nth", is_first=is_first, run=(is_first | (load != load.shift())).cum_sum().cast(pl.Int64))
        .select("nth", landing=pl.col("run") - pl.when("is_first").then("run").forward_fill())
    )
    return (
        exposures.join(landings, on="nth", how="left")
        .filter(pl.col("performed_day") <= pl.col("as_of_day"))
        .with_columns(pl.col("landing").fill_null(-1), tonnage_g="done_g")
        .collect()
    )
