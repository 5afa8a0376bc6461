"""What Polars has to know of the plan, in one place: keys, rows of an exercise within a session, amounts, rounds."""

from __future__ import annotations

from dataclasses import dataclass

import polars as pl

REST, DELOAD = 3, 5
# Weeks as days fit below it.
WEEK_SPAN = 1 << 17
POSITION_SPAN = 1 << 16


@dataclass(frozen=True)
class Plan:
    exercise_span: int
    week_span: int
    # Every planned exercise with its session.
    rows: pl.DataFrame
    # The one or first row for each session and exercise; needs_rank where there are more, or targets of their own.
    asked_once: pl.DataFrame
    ranked: pl.DataFrame
    targets: pl.DataFrame
    session_amounts: pl.DataFrame
    rounds: pl.DataFrame


def plan_of(frames: dict[str, pl.DataFrame]) -> Plan:
    span = 1 + max((frames[name][column].max() or 0) for name, column in (
        ("exercises", "exercise_id"), ("planned_exercises", "exercise_id"), ("set_logs", "asked_id"),
    ))
    rows = _rows(frames, span)
    asked = rows.lazy().select(
        "key", "planned_id", "position", "implements", "sides", planned_sets="sets", planned_reps="reps",
        asked_load="load_code", planned_is_in_reps=pl.col("measure") == 0,
        needs_rank=pl.col("own_reps").is_not_null() | pl.col("key").is_duplicated(),
    )
    ranked = (
        asked.filter("needs_rank").sort("key", "position")
        .with_columns(sets_before=pl.col("planned_sets").cum_sum() - pl.col("planned_sets"))
        .with_columns(sets_before=pl.col("sets_before") - first_of_run("sets_before", "key"))
        .sort("sets_before").drop("needs_rank", "position")
    )
    return Plan(
        exercise_span=span, week_span=WEEK_SPAN, rows=rows,
        asked_once=asked.unique("key", keep="any", maintain_order=False).drop("position").collect(),
        ranked=ranked.collect(),
        targets=frames["set_targets"].select("planned_id", number_in_row="number", own_reps="reps"),
        session_amounts=_session_amounts(rows), rounds=_rounds(rows),
    )


def _rows(frames: dict[str, pl.DataFrame], span: int) -> pl.DataFrame:
    own = frames["set_targets"].lazy().group_by("planned_id").agg(own_reps=pl.sum("reps"))
    suggested, exercise = pl.col("suggested_day"), pl.col("exercise_id")
    monday = suggested - (suggested + 3) % 7
    return (
        frames["planned_exercises"].lazy()
        .join(
            frames["planned_sessions"].lazy().select("session_id", "client_id", "block_id", "suggested_day"),
            on="session_id",
        )
        .join(own, on="planned_id", how="left")
        .with_columns(
            key=pl.col("session_id") * span + exercise,
            week_key=(pl.col("client_id") * WEEK_SPAN + monday) * span + exercise,
            total_reps=pl.coalesce("own_reps", pl.col("sets") * pl.col("reps")),
        )
        .with_columns(
            planned_g=pl.col("total_reps") * pl.col("load_code").clip(lower_bound=0) * pl.col("implements")
            * pl.col("sides"),
            seconds=pl.col("total_reps") * pl.col("sides")
            * pl.when(pl.col("measure") == 0).then(pl.col("tempo_s").fill_null(3.0)).otherwise(1.0)
            + pl.when(pl.col("sets") > 1).then(pl.col("rest_s") * (pl.col("sets") - 1)).otherwise(0.0),
        )
        .collect()
    )


def latest_of(rows: pl.DataFrame, span: int, wanted: pl.DataFrame) -> pl.DataFrame:
    """Implements and sides of the client's latest planned row of each wanted client_key."""
    return (
        rows.lazy()
        .select("suggested_day", "position", "session_id", "implements", "sides",
                client_key=pl.col("client_id") * span + pl.col("exercise_id"))
        .join(wanted.lazy().select("client_key"), on="client_key", how="semi")
        .sort("suggested_day", "position", "session_id")
        .unique("client_key", keep="last", maintain_order=False)
        .select("client_key", latest_implements="implements", latest_sides="sides")
        .collect()
    )


def _session_amounts(rows: pl.DataFrame) -> pl.DataFrame:
    return (
        rows.lazy()
        .select("session_id", "exercise_id", "sets", "planned_g", "seconds",
                place=pl.col("session_id") * POSITION_SPAN + pl.col("position"))
        .sort("place")
        .with_columns(
            is_change=(pl.col("session_id") == pl.col("session_id").shift())
            & (pl.col("exercise_id") != pl.col("exercise_id").shift())
        )
        .group_by("session_id")
        .agg(
            planned_sets=pl.sum("sets"), planned_g=pl.sum("planned_g"),
            seconds=pl.sum("seconds"), unknown=pl.col("seconds").null_count(), changes=pl.sum("is_change"),
        )
        .select(
            "session_id", "planned_sets", "planned_g",
            planned_minutes=pl.when(pl.col("unknown") == 0)
            .then((pl.col("seconds") + 60.0 * pl.col("changes") + 300.0) / 60.0),
        )
        .collect()
    )


def _rounds(rows: pl.DataFrame) -> pl.DataFrame:
    """Stage and stages of each planned row: the round's distinct sets x reps x rest in order of time."""
    exercise = pl.col("exercise_id") + pl.col("block_id") * (1 + rows["exercise_id"].max() if rows.height else 1)
    load = pl.col("load_code")
    in_time = (
        rows.lazy()
        .filter(pl.col("changed") != DELOAD)
        .select(
            "planned_id", "session_id", "load_code", of=exercise,
            time=pl.col("suggested_day") * POSITION_SPAN + pl.col("position"),
            # Milliseconds, so that a rest of half a second is one of its own.
            what=(pl.col("sets") * 4096 + pl.col("target_code")) * (1 << 33)
            + (pl.col("rest_s").fill_null(-1.0) * 1000).round().cast(pl.Int64),
        )
        .sort("of", "time", "session_id")
        .with_columns(
            round=((pl.col("of") != pl.col("of").shift()) | (load != load.shift())).fill_null(True).cum_sum()
        )
        .with_row_index("nth")
    )
    stages = (
        in_time.group_by("round", "what").agg(pl.min("nth")).sort("nth").with_row_index("place")
        .with_columns(stage=pl.col("place") - first_of_run("place", "round"), stages=pl.len().over("round"))
    )
    return (
        in_time.join(stages.drop("nth"), on=["round", "what"], how="left")
        .select("planned_id", "stage", "stages")
        .collect()
    )


def first_of_run(column: str, *runs: str) -> pl.Expr:
    """The column's value in the first row of each run of equal rows: what a window would say, on rows in order."""
    is_first = pl.any_horizontal(*[pl.col(name) != pl.col(name).shift() for name in runs]).fill_null(True)
    return pl.when(is_first).then(column).forward_fill()
