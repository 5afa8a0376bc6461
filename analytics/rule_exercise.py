"""What is happening with one exercise: stall, step not taken, skipped, no step, too easy, ready.

All ask only of exercises that are live: planned on a day at most 13 days back, or later. While a pain finding is open,
stall, too easy and ready are silent for exercises that the studio ties to its region.

- stall: on the present landing the last two exposures short: watch; the last three, or the latest and the
  nearest earlier one with the same sets, reps and rest (a second round): act.
- step not taken, in place of stall: the landing is heavier than the one before, and in its last two exposures no
  set was above the old load + 1 %.
- skips it: not logged in three of the last four exposures.
- no step: in three or more weeks of the present landing the sets, reps and rest of the latest; turnout of the last 56
  days at least 0.75.
- too easy: the last two exposures of the landing met with the last set two or more reps over (two-for-two).
- ready: the latest exposure is of its round's last stage and all of the last two stages were met, without pain of 1 or
  more in those sessions, and never with only 0-1 left in the last set.
"""

from __future__ import annotations

import numpy as np

from analytics.exercise_states import NOTHING, Exercises, ExposureStates, LandingStates
from analytics.findings_schema import Cases, Found, Kind, Urgency, found
from analytics.frame_schema import ABSENT
from analytics.history import History
from analytics.rule_pain import PainReports
from analytics.sorted_keys import Bools, Ints, expand_ranges


class ExerciseRules:
    """The six rules over one history, asked of any cases."""

    def __init__(self, history: History) -> None:
        self.history = history
        self.exercises = Exercises(history)
        self.landings = LandingStates(history, self.exercises)
        self.exposures = ExposureStates(history, self.exercises)
        regions = history.record.exercise_regions
        ties = zip(regions["exercise_id"].tolist(), regions["region_code"].tolist(), strict=True)
        # A blank among an exercise's regions is no region: it must not equal that of pain which names none.
        self._ties = {tie for tie in ties if tie[1] != ABSENT}

    def find(self, cases: Cases, pain: PainReports, attends_enough: Bools) -> list[Found]:
        """Findings of all six kinds; `attends_enough` says for each case whether turnout lets `no_step` speak.

        `subject` is the exercise's id, `row` the latest exposure's.
        """
        case, number = self._live_exercises(cases)
        day = cases.day[case]
        on_landing = self.landings.lookup.last_until(number, day)
        latest = self.exposures.lookup.last_until(number, day)
        is_muted = self._is_muted(cases, case, number, pain)
        return [
            *self._on_landing(cases, case, number, on_landing, is_muted, attends_enough),
            *self._of_latest(cases, case, number, latest, is_muted),
        ]

    def _live_exercises(self, cases: Cases) -> tuple[Ints, Ints]:
        client = self.exercises.client
        starts = np.searchsorted(client, cases.client_row, side="left")
        case, number = expand_ranges(starts, np.searchsorted(client, cases.client_row, side="right"))
        is_live = self.exercises.last_day[number] >= cases.day[case] - self.history.thresholds.live_days
        return case[is_live], number[is_live]

    def _is_muted(self, cases: Cases, case: Ints, number: Ints, pain: PainReports) -> Bools:
        is_muted = np.zeros(case.size, dtype=np.bool_)
        if not self._ties:
            return is_muted
        hurting, report = pain.latest_open(cases)
        region = np.full(len(cases), NOTHING, dtype=np.int64)
        region[hurting] = pain.region_of(report)
        for exercise_id, region_code in self._ties:
            is_muted |= (self.exercises.exercise_id[number] == exercise_id) & (region[case] == region_code)
        return is_muted

    def _on_landing(
        self, cases: Cases, case: Ints, number: Ints, at: Ints, is_muted: Bools, attends_enough: Bools
    ) -> list[Found]:
        states, thresholds = self.landings, self.history.thresholds
        has_landing = at >= 0
        case, number, at, is_muted = case[has_landing], number[has_landing], at[has_landing], is_muted[has_landing]
        is_step_not_taken = states.is_step_not_taken[at]
        is_stall = (states.stall_urgency[at] != NOTHING) & ~is_step_not_taken & ~is_muted
        has_no_step = (states.weeks_at_stage[at] >= thresholds.no_step_weeks) & attends_enough[case]
        is_too_easy = states.is_too_easy[at] & ~is_muted

        def of(kind: Kind, holds: Bools, urgency: Ints | int, count: Ints | int) -> Found:
            subject = self.exercises.exercise_id[number[holds]]
            row = states.row[at[holds]]
            return found(kind, cases, case[holds], subject=subject, urgency=urgency, row=row, count=count)

        return [
            of(Kind.STALL, is_stall, states.stall_urgency[at[is_stall]], states.short_in_a_row[at[is_stall]]),
            of(Kind.STEP_NOT_TAKEN, is_step_not_taken, Urgency.ACT, thresholds.step_not_taken_exposures),
            of(Kind.NO_STEP, has_no_step, Urgency.WATCH, states.weeks_at_stage[at[has_no_step]]),
            of(Kind.TOO_EASY, is_too_easy, Urgency.GOOD, thresholds.too_easy_exposures),
        ]

    def _of_latest(self, cases: Cases, case: Ints, number: Ints, at: Ints, is_muted: Bools) -> list[Found]:
        states = self.exposures
        has_exposure = at >= 0
        case, number, at, is_muted = case[has_exposure], number[has_exposure], at[has_exposure], is_muted[has_exposure]
        is_skipping = states.is_skipping[at]
        is_ready = states.is_ready[at] & ~is_muted

        def of(kind: Kind, holds: Bools, urgency: int, count: Ints | int) -> Found:
            subject = self.exercises.exercise_id[number[holds]]
            row = states.row[at[holds]]
            return found(kind, cases, case[holds], subject=subject, urgency=urgency, row=row, count=count)

        return [
            of(Kind.SKIPS_IT, is_skipping, Urgency.WATCH, states.skipped[at[is_skipping]]),
            of(Kind.READY, is_ready, Urgency.GOOD, 1),
        ]
