"""The same tables as a good user of pandas writes them: merges, groupbys and vectorised columns, no apply."""

from __future__ import annotations

import numpy as np
import pandas as pd

from tests.bench.agreement import Tables
from tests.bench.pandas_tables import build_exposures, build_sessions, build_weeks

Frames = dict[str, pd.DataFrame]


def pandas_tables(frames: Frames) -> Tables:
    planned = frames["planned_exercises"].merge(
        frames["planned_sessions"][["session_id", "client_id", "block_id", "suggested_day"]], on="session_id"
    )
    logs = link_logs(frames, planned)
    sets = match_sets(frames, planned, logs)
    of_logs = sets.groupby("log_id").agg(
        working_sets=("reps", "size"), tonnage_g=("tonnage_g", "sum"), body_tonnage_g=("body_tonnage_g", "sum")
    )
    logs = logs.merge(of_logs, on="log_id", how="left")
    logs = logs.fillna({"working_sets": 0, "tonnage_g": 0, "body_tonnage_g": 0})
    asked = planned_amounts(frames, planned)
    tally = tally_sets(asked, sets)
    sessions = build_sessions(frames, asked, logs, tally)
    return {
        "logs": logs,
        "sessions": sessions,
        "weeks": build_weeks(frames, sessions, logs),
        "exposures": build_exposures(asked, sessions, logs, tally),
    }


def monday(days: pd.Series) -> pd.Series:
    return days - (days + 3) % 7


def link_logs(frames: Frames, planned: pd.DataFrame) -> pd.DataFrame:
    logs = frames["session_logs"].assign(week_start_day=lambda log: monday(log["performed_day"]))
    is_found = logs["given_session_id"] == -1
    of_logs = (
        frames["set_logs"][["log_id", "asked_id"]]
        .merge(logs.loc[is_found, ["log_id", "client_id", "week_start_day", "performed_day"]], on="log_id")
        .drop_duplicates(["log_id", "asked_id"])
    )
    of_plan = planned.assign(week_start_day=monday(planned["suggested_day"]))[
        ["session_id", "client_id", "week_start_day", "exercise_id", "suggested_day"]
    ].drop_duplicates(["session_id", "exercise_id"])
    week = ["client_id", "week_start_day"]
    pairs = of_logs.merge(of_plan, left_on=[*week, "asked_id"], right_on=[*week, "exercise_id"])
    found = (
        pairs.groupby(["log_id", "session_id", "performed_day", "suggested_day"]).size().rename("shared").reset_index()
        .assign(distance=lambda pair: (pair["suggested_day"] - pair["performed_day"]).abs())
        .sort_values(["log_id", "shared", "distance", "suggested_day", "session_id"],
                     ascending=[True, False, True, True, True])
        .drop_duplicates("log_id")[["log_id", "session_id"]]
    )
    logs = logs.merge(found, on="log_id", how="left")
    logs["session_id"] = logs["session_id"].where(is_found, logs["given_session_id"]).fillna(-1).astype("int64")
    logs = logs.assign(is_found=is_found).sort_values(["performed_day", "is_found", "filed"])
    nth = logs.groupby("session_id").cumcount()
    logs["standing"] = np.select([logs["session_id"] == -1, nth == 0], [2, 0], default=1)
    return logs


def match_sets(frames: Frames, planned: pd.DataFrame, logs: pd.DataFrame) -> pd.DataFrame:
    sets = frames["set_logs"]
    working = (
        sets[(sets["reps"] >= 1) & ~sets["is_warm_up"]]
        .merge(logs[["log_id", "client_id", "session_id", "standing"]], on="log_id")
        .sort_values(["log_id", "asked_id", "number", "position"])
        .reset_index(drop=True)
    )
    working["rank"] = working.groupby(["log_id", "asked_id"]).cumcount()
    working["set_row"] = np.arange(len(working))
    rows = planned.sort_values(["session_id", "exercise_id", "position"]).reset_index(drop=True)
    before = rows.groupby(["session_id", "exercise_id"])["sets"].cumsum() - rows["sets"]
    rows = rows.assign(sets_before=before, is_last=~rows.duplicated(["session_id", "exercise_id"], keep="last"))[
        ["session_id", "exercise_id", "planned_id", "sets", "reps", "sets_before", "is_last", "implements", "sides"]
    ].rename(columns={"exercise_id": "asked_id", "reps": "planned_reps"})
    pairs = working[["set_row", "session_id", "asked_id", "rank"]].merge(rows, on=["session_id", "asked_id"])
    fits = (pairs["rank"] >= pairs["sets_before"]) & (
        pairs["is_last"] | (pairs["rank"] < pairs["sets_before"] + pairs["sets"])
    )
    matched = working.merge(pairs[fits].drop(columns=["session_id", "asked_id", "rank"]), on="set_row", how="left")
    return _with_grams(frames, planned, _with_targets(frames, matched))


def _with_targets(frames: Frames, sets: pd.DataFrame) -> pd.DataFrame:
    number = np.minimum(sets["rank"] - sets["sets_before"] + 1, sets["sets"])
    own = frames["set_targets"].rename(columns={"number": "own_number", "reps": "own_reps"})
    sets = sets.assign(own_number=number).merge(own, on=["planned_id", "own_number"], how="left")
    return sets.assign(target_reps=sets["own_reps"].fillna(sets["planned_reps"]))


def _with_grams(frames: Frames, planned: pd.DataFrame, sets: pd.DataFrame) -> pd.DataFrame:
    """Implements and sides of the planned row, else of the client's latest of that exercise, else its own."""
    latest = (
        planned.sort_values(["suggested_day", "position", "session_id"])
        .drop_duplicates(["client_id", "exercise_id"], keep="last")[["client_id", "exercise_id", "implements", "sides"]]
        .rename(columns={"exercise_id": "asked_id", "implements": "latest_implements", "sides": "latest_sides"})
    )
    own = frames["exercises"].rename(
        columns={"exercise_id": "asked_id", "implements": "own_implements", "sides": "own_sides"}
    )
    sets = sets.merge(latest, on=["client_id", "asked_id"], how="left").merge(own, on="asked_id", how="left")
    implements = sets["implements"].fillna(sets["latest_implements"]).fillna(sets["own_implements"]).fillna(1)
    sides = sets["sides"].fillna(sets["latest_sides"]).fillna(sets["own_sides"]).fillna(1)
    return sets.assign(
        tonnage_g=sets["reps"] * sets["load_code"].clip(lower=0) * implements * sides,
        body_tonnage_g=sets["reps"] * sides * sets["body_g"].fillna(0).round(),
        is_swapped=sets["exercise_id"] != sets["asked_id"],
    )


def planned_amounts(frames: Frames, planned: pd.DataFrame) -> pd.DataFrame:
    own = frames["set_targets"].groupby("planned_id")["reps"].sum().rename("own_reps")
    asked = planned.merge(own, on="planned_id", how="left")
    total_reps = asked["own_reps"].fillna(asked["sets"] * asked["reps"])
    seconds_a_rep = asked["tempo_s"].fillna(3.0).where(asked["measure"] == 0, 1.0)
    rests = (asked["rest_s"] * (asked["sets"] - 1)).where(asked["sets"] > 1, 0.0)
    return asked.assign(
        planned_g=total_reps * asked["load_code"].clip(lower=0) * asked["implements"] * asked["sides"],
        seconds=total_reps * asked["sides"] * seconds_a_rep + rests,
    )


def tally_sets(asked: pd.DataFrame, sets: pd.DataFrame) -> pd.DataFrame:
    """What was done on each planned row, by the session's own log."""
    counted = sets[(sets["standing"] == 0) & sets["planned_id"].notna()].merge(
        asked[["planned_id", "load_code", "measure"]].rename(
            columns={"load_code": "asked_load", "measure": "asked_measure"}
        ), on="planned_id"
    )
    load, wanted, reps = counted["load_code"], counted["asked_load"], counted["reps"]
    estimate = (load / 1000).where(reps == 1, load / 1000 * (1 + reps / 30))
    is_at_load = (wanted < 0) | (load * 100 >= wanted * 99)
    counted = counted.assign(
        is_at_load=is_at_load,
        is_met=is_at_load & (reps >= counted["target_reps"]),
        is_heavier=(wanted >= 0) & (load * 100 > wanted * 101),
        estimate=estimate.where((counted["asked_measure"] == 0) & ~counted["is_swapped"] & (load >= 0) & (reps <= 10)),
        over=reps - counted["target_reps"],
    )
    return counted.groupby("planned_id").agg(
        working_sets=("reps", "size"), sets_at_load=("is_at_load", "sum"), sets_met=("is_met", "sum"),
        has_heavier_set=("is_heavier", "any"), done_g=("tonnage_g", "sum"), mean_rest_s=("rest_s", "mean"),
        best_e1rm_kg=("estimate", "max"), top_load_code=("load_code", "max"), last_reps_over=("over", "last"),
        last_reps_left=("reps_left", "last"),
    ).reset_index()
