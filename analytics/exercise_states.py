"""What would hold of an exercise if this exposure were the latest? Computed once for every exposure.

Conditions on the present landing look at the exposures that belong to landings; `skips_it` and `ready` at all of them.
"""

from __future__ import annotations

import numpy as np

from analytics.exposures import ROUNDING_G
from analytics.findings_schema import Urgency
from analytics.flag_thresholds import Thresholds
from analytics.frame_schema import Reason, RepsLeft
from analytics.history import History
from analytics.landings import NO_LANDING, NO_ROUND, stage_codes
from analytics.sorted_keys import Bools, DayLookup, Ints, dense_codes, order_by, positions_of, rank_in_run, run_starts
from analytics.training_weeks import week_start_day

NOTHING = -1


class Exercises:
    """The exercises ever planned for each client (a row of `clients`), and the last day each is planned on."""

    def __init__(self, history: History) -> None:
        planned, sessions = history.record.planned_exercises, history.record.planned_sessions
        session_row = history.record.session_row_of_planned
        client = history.outcomes["client_row"][session_row]
        exercise = planned["exercise_id"]
        codes, count = dense_codes(client, exercise)
        self.client, self.exercise_id = np.zeros(count, dtype=np.int64), np.zeros(count, dtype=np.int64)
        self.client[codes], self.exercise_id[codes] = client, exercise
        self.last_day = np.full(count, np.iinfo(np.int64).min)
        np.maximum.at(self.last_day, codes, sessions["suggested_day"][session_row])
        # For every exposure, the number of its exercise.
        self.of_exposure = codes[history.exposures["planned_row"]]


class LandingStates:
    """Exposures that lie on landings, by exercise and time, with what would hold if each were the latest."""

    def __init__(self, history: History, exercises: Exercises) -> None:
        exposures, thresholds = history.exposures, history.thresholds
        kept = np.flatnonzero(exposures["landing"] != NO_LANDING)
        self.row = kept[order_by(exercises.of_exposure[kept])]
        exercise = exercises.of_exposure[self.row]
        day = exposures["performed_day"][self.row]
        self.lookup = DayLookup(exercise, day)
        planned_row = exposures["planned_row"][self.row]
        self.landing = np.cumsum(run_starts(exercise, exposures["landing"][self.row])) - 1
        self._stage = stage_codes(history.record.planned_exercises)[planned_row]
        self._load = history.record.planned_exercises["load_code"][planned_row]
        self._is_met = exposures["is_met"][self.row]
        self.short_in_a_row = _run_length(~self._is_met, self.landing)
        self.stall_urgency = self._stall(thresholds)
        self.is_step_not_taken = self._step_not_taken(history, exercise, thresholds)
        over = exposures["last_reps_over"][self.row] >= thresholds.too_easy_reps
        self.is_too_easy = _run_length(self._is_met & over, self.landing) >= thresholds.too_easy_exposures
        self.weeks_at_stage = self._weeks_at_stage(day)

    def _stall(self, thresholds: Thresholds) -> Ints:
        is_act = self.short_in_a_row >= thresholds.stall_act_exposures
        is_act |= ~self._is_met & self._same_stage_was_short()
        return np.select(
            [is_act, self.short_in_a_row >= thresholds.stall_watch_exposures],
            [Urgency.ACT, Urgency.WATCH],
            default=NOTHING,
        ).astype(np.int64)

    def _same_stage_was_short(self) -> Bools:
        """Whether the nearest earlier exposure on the landing with the same sets, reps and rest was short."""
        order = order_by(self.landing, self._stage)
        is_first = run_starts(self.landing[order], self._stage[order])
        was_short = np.zeros(self.row.size, dtype=np.bool_)
        was_short[order[1:]] = ~self._is_met[order[:-1]] & ~is_first[1:]
        return was_short

    def _step_not_taken(self, history: History, exercise: Ints, thresholds: Thresholds) -> Bools:
        """The landing is heavier than the one before, and no set of its last exposures was above the old load."""
        starts = np.flatnonzero(run_starts(self.landing))
        old_load = np.full(starts.size, -1, dtype=np.int64)
        if starts.size:
            has_one_before = np.zeros(starts.size, dtype=np.bool_)
            has_one_before[1:] = exercise[starts[1:]] == exercise[starts[1:] - 1]
            old_load[has_one_before] = self._load[starts[has_one_before] - 1]
        old_load = old_load[self.landing]
        is_step = (old_load >= 0) & (self._load > old_load)
        top = history.exposures["top_load_code"][self.row]
        stays = is_step & (top <= old_load * (1 + thresholds.load_tolerance) + ROUNDING_G)
        return _run_length(stays, self.landing) >= thresholds.step_not_taken_exposures

    def _weeks_at_stage(self, day: Ints) -> Ints:
        """In how many weeks, so far, exposures of the landing had the sets, reps and rest of this one."""
        order = order_by(self.landing, self._stage)
        group_starts = run_starts(self.landing[order], self._stage[order])
        week_starts = run_starts(self.landing[order], self._stage[order], week_start_day(day[order]))
        counted = np.cumsum(week_starts)
        before = np.maximum.accumulate(np.where(group_starts, counted - 1, 0)) if counted.size else counted
        weeks = np.zeros(self.row.size, dtype=np.int64)
        weeks[order] = counted - before
        return weeks


class ExposureStates:
    """All exposures, by exercise and time, with what would hold if each were the latest."""

    def __init__(self, history: History, exercises: Exercises) -> None:
        exposures, thresholds = history.exposures, history.thresholds
        self.row = order_by(exercises.of_exposure)
        exercise = exercises.of_exposure[self.row]
        self.lookup = DayLookup(exercise, exposures["performed_day"][self.row])
        is_skipped = exposures["reason"][self.row] == Reason.NOT_LOGGED
        self.skipped = _count_of_last(is_skipped, exercise, thresholds.skipped_of_exposures)
        self.is_skipping = self.skipped >= thresholds.skipped_exposures
        self.is_ready = self._ready(history, thresholds)

    def _ready(self, history: History, thresholds: Thresholds) -> Bools:
        exposures = history.exposures
        stage, stages = exposures["stage"][self.row], exposures["stages"][self.row]
        round_number = exposures["round"][self.row]
        hurt = _is_hurt(history)[exposures["log_row"][self.row]]
        had_none_left = exposures["last_reps_left"][self.row] == RepsLeft.NONE_OR_ONE
        is_spoilt = ~exposures["is_met"][self.row] | hurt | had_none_left
        is_spoilt &= stage >= stages - 2
        order = order_by(round_number)
        spoilt_so_far = np.zeros(self.row.size, dtype=np.int64)
        spoilt_so_far[order] = _running_count(is_spoilt[order], run_starts(round_number[order]))
        is_last_stage = (round_number != NO_ROUND) & (stage == stages - 1)
        return is_last_stage & (spoilt_so_far == 0)


def _is_hurt(history: History) -> Bools:
    """For each log whether a pain report of it keeps somebody from being ready: enough pain, or an alarm symptom."""
    reports, logs = history.record.pain_reports, history.record.session_logs
    is_hurt = np.zeros(len(logs), dtype=np.bool_)
    log_row = positions_of(reports["log_id"], logs["log_id"])
    is_felt = reports["is_alarm"] | (reports["pain"] >= history.thresholds.ready_pain_from)
    is_hurt[log_row[is_felt & (log_row >= 0)]] = True
    return is_hurt


def _run_length(holds: Bools, group: Ints) -> Ints:
    """For how many rows in a row, up to each and within its group, it holds."""
    return np.where(holds, rank_in_run(run_starts(group, holds.astype(np.int64))) + 1, 0)


def _running_count(holds: Bools, starts: Bools) -> Ints:
    """How many rows of the run, up to each, it holds for."""
    counted = np.cumsum(holds.astype(np.int64))
    before = np.where(starts, counted - holds, 0)
    return counted - np.maximum.accumulate(before) if counted.size else counted


def _count_of_last(holds: Bools, group: Ints, window: int) -> Ints:
    """How many of the last `window` rows of the group, up to each, it holds for."""
    counted = np.concatenate([[0], np.cumsum(holds)])
    index = np.arange(holds.size)
    first = np.maximum(index + 1 - window, index - rank_in_run(run_starts(group)))
    return counted[index + 1] - counted[first]
