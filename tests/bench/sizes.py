"""A record of any size as frames, drawn at once: ids with gaps, rows in the order in which a database would hold them.

Three sessions a week with three exercises each; about four of five are logged, about every third log without naming its
session. Every oddity that a calculation has to know is there: second logs, extra sessions, swaps, warm-ups, targets of
their own for each set, an exercise twice in a session, body weight and bands, pauses, gaps, deloads.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
import pandas as pd

from analytics.frame_schema import ABSENT, Changed, Measure, Record, build_frame, empty_frame
from analytics.training_weeks import to_day

THURSDAY = to_day(date(2026, 7, 2))
SESSIONS_A_WEEK, EXERCISES_A_SESSION, EXERCISES_ON_SHELF = 3, 3, 60
WEEKS_IN_BLOCK = 6
# sets, reps, rest_s and what changed: a stage a week, the last one a deload.
STAGES = [
    (4, 8, 90, Changed.LOAD), (4, 10, 90, Changed.REPS), (5, 10, 90, Changed.SETS), (5, 10, 60, Changed.REST),
    (5, 12, 60, Changed.REPS), (2, 10, 90, Changed.DELOAD),
]  # fmt: skip
Array = np.ndarray


@dataclass(frozen=True)
class _Plan:
    sessions: pd.DataFrame
    exercises: pd.DataFrame
    targets: pd.DataFrame


def draw_record(clients: int, weeks: int, seed: int = 1, as_of: int = THURSDAY) -> Record:
    """`clients` with `weeks` of training behind them, the last one that of the day `as_of`."""
    dice = np.random.default_rng(seed)
    client_ids = gapped_ids(dice, clients)
    first_monday = as_of - (as_of + 3) % 7 - 7 * (weeks - 1)
    plan = _draw_plan(dice, client_ids, weeks, first_monday)
    logs, session_row = _draw_logs(dice, plan.sessions, as_of)
    return Record(
        clients=build_frame("clients", {
            "client_id": client_ids, "as_of_day": np.full(clients, as_of),
            "joined_day": first_monday + dice.choice([-60, 0, 9], clients), "sends": dice.choice(3, clients),
            "minutes": dice.choice([np.nan, 30.0, 45.0], clients), "is_active": np.ones(clients, bool),
        }),
        pauses=_draw_pauses(dice, client_ids, weeks, first_monday),
        planned_sessions=plan.sessions, planned_exercises=plan.exercises, set_targets=plan.targets,
        exercises=build_frame("exercises", {
            "exercise_id": np.arange(EXERCISES_ON_SHELF) * 3 + 11,
            "implements": np.ones(EXERCISES_ON_SHELF), "sides": 1 + (np.arange(EXERCISES_ON_SHELF) % 7 == 0),
        }),
        exercise_regions=empty_frame("exercise_regions"),
        session_logs=logs,
        set_logs=_draw_sets(dice, plan.exercises, plan.sessions, logs, session_row),
        pain_reports=empty_frame("pain_reports"),
        pain_closings=empty_frame("pain_closings"),
        check_in_plans=empty_frame("check_in_plans"),
        check_ins=empty_frame("check_ins"),
    )


def gapped_ids(dice: np.random.Generator, count: int) -> Array:
    """Rising ids, about every third one gone."""
    return np.cumsum(dice.choice([1, 1, 2, 3], count)) + 1000


def _draw_pauses(dice: np.random.Generator, client_ids: Array, weeks: int, first_monday: int) -> pd.DataFrame:
    paused = np.repeat(client_ids[dice.random(client_ids.size) < 0.3], 2)
    first = first_monday + dice.integers(0, 7 * weeks, paused.size)
    return build_frame("pauses", {
        "client_id": paused, "from_day": first, "until_day": first + dice.integers(0, 16, paused.size),
    })


def _draw_plan(dice: np.random.Generator, client_ids: Array, weeks: int, first_monday: int) -> _Plan:
    """Blocks are written one after the other for all clients, as coaches do."""
    week, client, number = (
        grid.ravel()
        for grid in np.meshgrid(np.arange(weeks), np.arange(client_ids.size), np.arange(SESSIONS_A_WEEK), indexing="ij")
    )
    block, week_of_block = np.divmod(week, WEEKS_IN_BLOCK)
    in_order = np.lexsort((number, week, client, block))
    week, client, number, block, week_of_block = (
        column[in_order] for column in (week, client, number, block, week_of_block)
    )
    monday = first_monday + 7 * week
    sessions = build_frame("planned_sessions", {
        "session_id": gapped_ids(dice, week.size), "client_id": client_ids[client],
        "block_id": 1000 + 3 * (block * client_ids.size + client), "week": week_of_block + 1,
        "suggested_day": monday + 2 * number,
        "block_end_day": monday + 7 * (WEEKS_IN_BLOCK - week_of_block) - 1,
    })
    return _Plan(sessions, *_draw_exercises(dice, sessions, client, number, block))


def _draw_exercises(
    dice: np.random.Generator, sessions: pd.DataFrame, client: Array, number: Array, block: Array
) -> tuple[pd.DataFrame, pd.DataFrame]:
    each = EXERCISES_A_SESSION
    session = np.repeat(np.arange(len(sessions)), each)
    position = np.tile(np.arange(1, each + 1), len(sessions))
    lane = number[session] * each + position - 1
    # Here and there the third exercise is the first one again.
    lane -= 2 * ((position == 3) & (client[session] % 5 == 0))
    exercise = (client[session] * 7 + lane * 5) % EXERCISES_ON_SHELF
    stages = np.array([(*stage[:3], int(stage[3])) for stage in STAGES])
    sets, reps, rest_s, changed = stages[sessions["week"].to_numpy()[session] - 1].T
    load = 2000 * (3 + (client[session] + exercise) % 9 + block[session])
    load = np.select([exercise % 11 == 3, exercise % 11 == 4], [-1, -2], load)
    planned_id = gapped_ids(dice, session.size)
    has_own = (lane % 4 == 1) & (sets == 4)
    planned = build_frame("planned_exercises", {
        "planned_id": planned_id, "session_id": sessions["session_id"].to_numpy()[session], "position": position,
        "exercise_id": exercise * 3 + 11, "sets": sets, "reps": reps, "target_code": np.where(has_own, -1, reps),
        "load_code": load, "implements": 1 + (exercise % 3 == 0), "sides": 1 + (exercise % 7 == 0),
        "measure": np.where(exercise % 13 == 5, Measure.SECONDS, Measure.REPS),
        "rest_s": np.where(exercise % 17 == 6, np.nan, rest_s), "changed": changed,
        "tempo_s": np.where(exercise % 10 == 7, 5.0, np.nan),
    })
    of_set = np.tile([1, 2, 3, 4], has_own.sum())
    targets = build_frame("set_targets", {
        "planned_id": np.repeat(planned_id[has_own], 4), "number": of_set, "reps": 14 - 2 * of_set,
    })
    return planned, targets


def _draw_logs(dice: np.random.Generator, sessions: pd.DataFrame, as_of: int) -> tuple[pd.DataFrame, Array]:
    """The logs in the order in which they come in, and for each the row of the session it is of."""
    suggested = sessions["suggested_day"].to_numpy()
    # Some clients stay away for weeks.
    is_away = (sessions["client_id"].to_numpy() + suggested // 21) % 9 == 0
    done = np.flatnonzero((suggested <= as_of) & ~is_away & (dice.random(suggested.size) < 0.93))
    row = np.concatenate([done, done[dice.random(done.size) < 0.01]])
    performed = suggested[row] + dice.choice([0, 0, 0, 0, 1, 1, 2, 5], row.size)
    row, performed = row[performed <= as_of], performed[performed <= as_of]
    order = np.argsort(performed, kind="stable")
    row, performed = row[order], performed[order]
    is_named = dice.random(row.size) < 0.65
    log_id = gapped_ids(dice, row.size)
    return build_frame("session_logs", {
        "log_id": log_id, "client_id": sessions["client_id"].to_numpy()[row], "performed_day": performed,
        "given_session_id": np.where(is_named, sessions["session_id"].to_numpy()[row], ABSENT),
        "filed": log_id, "has_details": dice.random(row.size) < 0.97,
        "minutes": np.where(dice.random(row.size) < 0.8, dice.integers(25, 60, row.size), np.nan),
        "effort": np.where(dice.random(row.size) < 0.7, dice.integers(4, 10, row.size), np.nan),
    }), row


def _draw_sets(
    dice: np.random.Generator, planned: pd.DataFrame, sessions: pd.DataFrame, logs: pd.DataFrame, session_row: Array
) -> pd.DataFrame:
    """Each log's sets, exercise after exercise: mostly as asked, now and then one fewer, lighter, swapped or extra."""
    detailed = np.flatnonzero(logs["has_details"].to_numpy())
    log = np.repeat(detailed, EXERCISES_A_SESSION)
    asked = session_row[log] * EXERCISES_A_SESSION + np.tile(np.arange(EXERCISES_A_SESSION), detailed.size)
    is_skipped = dice.random(asked.size) < 0.03
    log, asked = log[~is_skipped], asked[~is_skipped]
    of_plan = {name: planned[name].to_numpy()[asked] for name in ("sets", "reps", "load_code", "rest_s", "exercise_id")}
    warm_ups = (dice.random(asked.size) < 0.1).astype(np.int64)
    working = np.maximum(of_plan["sets"] + dice.choice([0, 0, 0, 0, 0, 0, -1, 1], asked.size), 1)
    count = warm_ups + working
    entry = np.repeat(np.arange(asked.size), count)
    within = np.arange(entry.size) - np.repeat(np.cumsum(count) - count, count)
    is_warm_up = within < warm_ups[entry]
    load = of_plan["load_code"][entry]
    factor = np.repeat(dice.choice([100, 100, 100, 100, 100, 90, 110], asked.size), count)
    swapped = np.repeat(dice.random(asked.size) < 0.02, count)
    unplanned = np.repeat(dice.random(asked.size) < 0.02, count)
    exercise = of_plan["exercise_id"][entry]
    other = 11 + 3 * ((exercise - 11) // 3 + 1) % (3 * EXERCISES_ON_SHELF)
    log_row = log[entry]
    starts = np.flatnonzero(np.r_[True, log_row[1:] != log_row[:-1]]) if log_row.size else log_row
    position = np.arange(log_row.size) - np.repeat(starts, np.diff(np.r_[starts, log_row.size])) + 1
    done = np.where(swapped | unplanned, other, exercise)
    number = pd.Series(done).groupby([log_row, done], sort=False).cumcount().to_numpy() + 1
    return build_frame("set_logs", {
        "log_id": logs["log_id"].to_numpy()[log_row], "position": position, "number": number,
        "exercise_id": done, "asked_id": np.where(swapped, exercise, done),
        "reps": np.maximum(of_plan["reps"][entry] + dice.choice([0, 0, 0, 0, -1, -2, 2, -99], entry.size,
                           p=[0.2, 0.2, 0.2, 0.1, 0.15, 0.1, 0.04, 0.01]), 0),
        "measure": planned["measure"].to_numpy()[asked][entry],
        "load_code": np.where(load > 0, load * np.where(is_warm_up, 50, factor) // 100, load),
        "rest_s": np.where(dice.random(entry.size) < 0.3, of_plan["rest_s"][entry] + 20, np.nan),
        "is_warm_up": is_warm_up, "reps_left": dice.choice([-1, -1, 0, 1], entry.size),
        "body_g": np.full(entry.size, np.nan),
    })
