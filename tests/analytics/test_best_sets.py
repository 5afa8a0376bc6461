"""The best set of each exercise in a span of days."""

from __future__ import annotations

import numpy as np
import pytest

from analytics.best_sets import find_best_sets
from analytics.frame_schema import Measure
from tests.analytics.frames import PRESS, SQUAT, asked, assessed, day_of, log, session, weekly, weekly_logs
from tests.analytics.spans import span


def best(plan, logs) -> list[dict]:
    assessment = assessed(plan, logs, on="2026-01-31")
    return find_best_sets(assessment, span(assessment, "2026-01-01", "2026-01-31")).records()


def test_the_best_set_is_that_of_the_highest_e1rm():
    (told,) = best(weekly("2x8@20", "1x5@22"), weekly_logs("8@20 9@20", "5@22"))

    # 20 kg x 9: 26.0; 22 kg x 5: 25.67.
    assert (told["reps"], told["load_g"], told["performed_day"]) == (9, 20_000, day_of("2026-01-05"))
    assert told["e1rm_kg"] == pytest.approx(26)


def test_beyond_the_formula_s_range_the_heaviest_is_best():
    (told,) = best(weekly("2x15@20"), weekly_logs("20@16 15@20"))

    assert (told["reps"], told["load_g"]) == (15, 20_000)
    assert np.isnan(told["e1rm_kg"])


def test_more_reps_than_the_formula_takes_are_no_less_than_fewer_at_that_load():
    (told,) = best(weekly("3x12@20"), weekly_logs("12@20 12@20 9@20"))

    assert (told["reps"], told["load_g"]) == (12, 20_000)
    assert np.isnan(told["e1rm_kg"])


def test_more_reps_than_the_formula_takes_count_as_the_most_it_takes():
    (told,) = best(weekly("2x12@20"), weekly_logs("15@20 8@24"))

    # 24 kg x 8: 30.4; 20 kg x 10: 26.67.
    assert (told["reps"], told["load_g"]) == (8, 24_000)


def test_without_a_load_the_most_reps_are_best_and_the_earliest_of_equal_ones():
    (told,) = best(weekly("2x8", "2x8"), weekly_logs("8 12", "12 9"))

    assert (told["reps"], told["load_g"], told["performed_day"]) == (12, -1, day_of("2026-01-05"))


def test_seconds_have_no_e1rm():
    plan = [session(1, "2026-01-05", asked("1x8@20", measure=Measure.SECONDS))]

    (told,) = best(plan, [log("2026-01-05", "8@20", of=1, measure=Measure.SECONDS)])

    assert np.isnan(told["e1rm_kg"])


def test_warm_ups_extra_sessions_and_what_was_done_instead_are_no_best_set():
    plan = [session(1, "2026-01-05", asked("2x8@20", SQUAT), asked("2x8@20", PRESS))]
    logs = [
        log("2026-01-05", {SQUAT: "10@60* 8@20", 99: "10@50"}, of=1, swapped={99: PRESS}),
        log("2026-01-12", {SQUAT: "10@60"}),
    ]

    (told,) = best(plan, logs)

    assert (told["exercise_id"], told["load_g"]) == (SQUAT, 20_000)
