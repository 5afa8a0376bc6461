"""Sessions, weeks and exposures by idiomatic pandas, from linked logs and tallied sets."""

from __future__ import annotations

import numpy as np
import pandas as pd

Frames = dict[str, pd.DataFrame]
REST, DELOAD = 3, 5
STATUSES = ("done", "partial", "told", "missed", "overdue", "awaited", "not_due")
WEEK = ["client_id", "week_start_day"]


def _monday(days: pd.Series) -> pd.Series:
    return days - (days + 3) % 7


def build_sessions(
    frames: Frames, asked: pd.DataFrame, logs: pd.DataFrame, tally: pd.DataFrame
) -> pd.DataFrame:
    sessions = frames["planned_sessions"].assign(week_start_day=lambda session: _monday(session["suggested_day"]))
    first = logs[logs["standing"] == 0][
        ["session_id", "log_id", "performed_day", "has_details", "minutes", "tonnage_g"]
    ].rename(columns={"tonnage_g": "log_g"})
    sessions = (
        sessions.merge(
            frames["clients"][["client_id", "as_of_day", "joined_day", "sends"]], on="client_id", how="left"
        )
        .merge(first, on="session_id", how="left")
        .merge(_amounts(asked, tally), on="session_id", how="left")
    )
    amounts = ["planned_sets", "planned_g", "counted_sets", "dosed_g", "done_g"]
    sessions[amounts] = sessions[amounts].fillna(0)
    paused = sessions[["session_id", "client_id", "suggested_day"]].merge(frames["pauses"], on="client_id")
    paused = paused[paused["suggested_day"].between(paused["from_day"], paused["until_day"])]["session_id"]
    has_details = sessions["has_details"].eq(True)
    completion = (sessions["counted_sets"] / sessions["planned_sets"]).where(sessions["planned_sets"] > 0, 1.0)
    sessions["log_completion"] = completion.where(has_details)
    as_of, suggested = sessions["as_of_day"], sessions["suggested_day"]
    sent_by = np.select(
        [sessions["sends"] == 1, sessions["sends"] == 2],
        [sessions["week_start_day"] + 8, sessions["block_end_day"] + 2],
        default=sessions["week_start_day"] + 6,
    )
    has_log, is_waited_for = sessions["performed_day"] <= as_of, as_of >= suggested + 2
    status = np.select(
        [
            has_log & ~has_details, has_log & (sessions["log_completion"] >= 0.8), has_log,
            sessions["session_id"].isin(paused) | (suggested < sessions["joined_day"]), as_of > sent_by,
            is_waited_for & (sessions["sends"] == 0), is_waited_for,
        ],
        [2, 0, 1, 6, 3, 4, 5],
        default=7,
    )
    unattended = np.isin(status, [3, 4])
    return sessions.assign(
        status=status,
        is_due=status <= 4,
        set_completion=sessions["log_completion"].where(has_log).where(~unattended, 0.0),
        is_done_later=has_log & (sessions["performed_day"] > sessions["week_start_day"] + 6),
        has_details=has_details,
    )


def _amounts(asked: pd.DataFrame, tally: pd.DataFrame) -> pd.DataFrame:
    rows = asked.merge(tally[["planned_id", "working_sets", "done_g"]], on="planned_id", how="left").sort_values(
        ["session_id", "position"]
    )
    has_load = rows["load_code"] >= 0
    rows["done_g"] = rows["done_g"].fillna(0).where(has_load, 0)
    rows["counted_sets"] = np.minimum(rows["working_sets"].fillna(0), rows["sets"])
    rows["dosed_g"] = np.minimum(rows["done_g"], rows["planned_g"])
    rows["is_change"] = rows.groupby("session_id")["exercise_id"].diff().fillna(0) != 0
    rows["is_known"] = rows["seconds"].notna()
    amounts = rows.groupby("session_id").agg(
        planned_sets=("sets", "sum"), counted_sets=("counted_sets", "sum"), planned_g=("planned_g", "sum"),
        dosed_g=("dosed_g", "sum"), done_g=("done_g", "sum"), seconds=("seconds", "sum"),
        changes=("is_change", "sum"), is_known=("is_known", "all"),
    )
    minutes = (amounts["seconds"] + 60.0 * amounts["changes"] + 300.0) / 60.0
    return amounts.assign(planned_minutes=minutes.where(amounts["is_known"])).reset_index()


def build_weeks(frames: Frames, sessions: pd.DataFrame, logs: pd.DataFrame) -> pd.DataFrame:
    past = sessions[sessions["week_start_day"] <= _monday(sessions["as_of_day"])]
    status = past["status"]
    is_measured, is_attended = past["is_due"] & (status != 2), status <= 1
    is_timed = is_attended & past["minutes"].notna() & (past["planned_g"] > 0) & past["planned_minutes"].notna()
    columns = {name: status == code for code, name in enumerate(STATUSES)}
    columns |= {name: past[name].where(is_measured) for name in ("planned_sets", "planned_g")}
    columns |= {name: past[name].where(is_attended) for name in ("counted_sets", "dosed_g", "done_g")}
    columns |= {
        "due": past["is_due"], "timed_g": past["log_g"].where(is_timed),
        "timed_minutes": past["minutes"].where(is_timed),
        "timed_planned_g": past["planned_g"].where(is_timed),
        "timed_planned_minutes": past["planned_minutes"].where(is_timed),
    }
    keyed = pd.DataFrame({"client_id": past["client_id"], "week_start_day": past["week_start_day"], **columns})
    planned = keyed.groupby(WEEK).sum()
    completion = past["set_completion"].where(is_measured)
    planned["completion"] = completion.groupby([past["client_id"], past["week_start_day"]]).mean()
    attended = planned["done"] + planned["partial"] + planned["told"]
    planned["turnout"] = (attended / planned["due"]).where(planned["due"] > 0)
    planned["dose"] = (planned["dosed_g"] / planned["planned_g"]).where(planned["planned_g"] > 0)
    planned["dose_uncapped"] = (planned["done_g"] / planned["planned_g"]).where(planned["planned_g"] > 0)
    weeks = planned.join(_performed_weeks(frames, logs), how="outer")
    return weeks.fillna(dict.fromkeys(columns, 0)).reset_index()


def _performed_weeks(frames: Frames, logs: pd.DataFrame) -> pd.DataFrame:
    logs = logs.merge(frames["clients"][["client_id", "as_of_day"]], on="client_id")
    logs = logs[logs["performed_day"] <= logs["as_of_day"]]
    is_timed = logs["has_details"] & logs["minutes"].notna()
    logs = logs.assign(
        detailed_g=logs["tonnage_g"].where(logs["has_details"]),
        body_g=logs["body_tonnage_g"].where(logs["has_details"]),
        timed_g=logs["tonnage_g"].where(is_timed), lifting=logs["minutes"].where(is_timed),
        load=logs["effort"] * logs["minutes"],
    )
    sums = logs.groupby(WEEK)[["detailed_g", "body_g", "timed_g", "lifting", "load", "minutes"]].sum(min_count=1)
    return pd.DataFrame({
        "tonnage_kg": sums["detailed_g"] / 1000,
        "body_mass_tonnage_kg": (sums["body_g"] / 1000).where(sums["body_g"] > 0),
        "minutes": sums["minutes"],
        "density_kg_min": sums["timed_g"] / 1000 / sums["lifting"],
        "session_load": sums["load"],
    })


def build_exposures(
    asked: pd.DataFrame, sessions: pd.DataFrame, logs: pd.DataFrame, tally: pd.DataFrame
) -> pd.DataFrame:
    met = (
        asked.merge(
            sessions.loc[sessions["has_details"], ["session_id", "log_id", "performed_day", "as_of_day"]],
            on="session_id",
        )
        .merge(tally, on="planned_id", how="left")
        .merge(_rounds(asked), on="planned_id", how="left")
    )
    nothing = {"working_sets": 0, "sets_at_load": 0, "sets_met": 0, "done_g": 0, "last_reps_over": 0}
    met = met.fillna(nothing | {"top_load_code": -1, "last_reps_left": -1, "stage": -1, "stages": -1})
    is_met = met["sets_met"] >= met["sets"]
    is_rest_over = (met["changed"] == REST) & (met["mean_rest_s"] > 1.25 * met["rest_s"])
    met["reason"] = np.select(
        [
            met["working_sets"] == 0, is_met & is_rest_over, is_met,
            met["sets_at_load"] < np.minimum(met["working_sets"], met["sets"]), met["working_sets"] < met["sets"],
            met["has_heavier_set"].eq(True),
        ],
        [1, 6, 0, 2, 3, 4],
        default=5,
    )
    met = met.assign(is_met=is_met, tonnage_g=met["done_g"]).sort_values(
        ["client_id", "performed_day", "suggested_day", "position", "session_id"], ignore_index=True
    )
    met["landing"] = _landings(met, logs)
    return met[met["performed_day"] <= met["as_of_day"]]


def _landings(met: pd.DataFrame, logs: pd.DataFrame) -> pd.Series:
    days = logs[["client_id", "performed_day"]].sort_values(["client_id", "performed_day"])
    came_back = days[days.groupby("client_id")["performed_day"].diff() >= 14].assign(
        returned_day=lambda day: day["performed_day"]
    )
    in_time = met[["client_id", "performed_day"]].astype("int64").reset_index().sort_values("performed_day")
    returned = pd.merge_asof(
        in_time, came_back.sort_values("performed_day"), on="performed_day", by="client_id"
    ).set_index("index")["returned_day"]
    is_off = met["reason"].isin([1, 4]) | (met["changed"] == DELOAD) | (met["performed_day"] - returned < 7)
    kept = met[~is_off]
    exercise = [kept["client_id"], kept["exercise_id"]]
    is_new = kept.groupby(["client_id", "exercise_id"])["load_code"].diff().fillna(0) != 0
    return is_new.groupby(exercise).cumsum().reindex(met.index).fillna(-1)


def _rounds(asked: pd.DataFrame) -> pd.DataFrame:
    """Stage and stages of each planned row: the round's distinct sets x reps x rest in order of time."""
    rows = asked[asked["changed"] != DELOAD].sort_values(
        ["block_id", "exercise_id", "suggested_day", "position", "session_id"]
    )
    exercise = ["block_id", "exercise_id"]
    is_new_round = rows.groupby(exercise)["load_code"].diff().fillna(1) != 0
    rows = rows.assign(round=is_new_round.cumsum())
    stage = ["round", "sets", "target_code", "rest_s"]
    stages = rows[stage].drop_duplicates()
    by_round = stages.groupby("round")
    stages = stages.assign(stage=by_round.cumcount(), stages=by_round["sets"].transform("size"))
    return rows[["planned_id", *stage]].merge(stages, on=stage)[["planned_id", "stage", "stages"]]
