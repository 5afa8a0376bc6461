"""Which planned exercise a logged set counts for, and what was moved in it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from analytics.linking import link_logs
from analytics.set_matching import match_sets
from tests.analytics.frames import PRESS, SQUAT, Session, asked, log, planned_id_of, record, session

MON = "2026-01-05"


def matched(plan: list[Session], *logs, **about) -> pd.DataFrame:
    whole = record(plan, logs, on="2026-02-01", **about)
    sets = match_sets(whole, link_logs(whole)).to_frame()
    planned_ids = whole.planned_exercises["planned_id"].tolist()
    return sets.assign(planned_id=[planned_ids[row] if row >= 0 else -1 for row in sets["planned_row"]])


def test_warm_ups_and_sets_of_no_reps_are_no_working_sets():
    sets = matched([session(1, MON)], log(MON, "8@10* 8@20 0@20 7@20", of=1))

    assert sets["reps"].tolist() == [8, 7]


def test_sets_count_for_the_planned_exercise_of_their_log_s_session():
    plan = [session(1, MON, asked(exercise=SQUAT), asked(exercise=PRESS)), session(2, MON, asked(exercise=PRESS))]

    sets = matched(plan, log(MON, {PRESS: "8@10", SQUAT: "8@20"}, of=1))

    assert set(zip(sets["load_code"], sets["planned_id"], strict=True)) == {
        (10_000, planned_id_of(1, 2)), (20_000, planned_id_of(1, 1)),
    }


def test_an_exercise_that_the_session_does_not_plan_counts_for_none():
    sets = matched([session(1, MON)], log(MON, {PRESS: "8@10"}, of=1))

    assert sets[["planned_id", "target_reps"]].to_numpy().tolist() == [[-1, 0]]


def test_the_same_exercise_planned_twice_fills_its_rows_in_order_and_the_last_takes_what_is_left():
    plan = [session(1, MON, asked("2x8@20"), asked("1x12@16"))]

    sets = matched(plan, log(MON, "8@20 8@20 12@16 11@16 10@16", of=1))

    first, second = planned_id_of(1, 1), planned_id_of(1, 2)
    assert sets["planned_id"].tolist() == [first, first, second, second, second]
    assert sets["target_reps"].tolist() == [8, 8, 12, 12, 12]


def test_each_set_has_its_own_target_and_one_beyond_them_the_last_one_s():
    sets = matched([session(1, MON, asked("12-10-8@20"))], log(MON, "12@20 10@20 8@20 8@20", of=1))

    assert sets["target_reps"].tolist() == [12, 10, 8, 8]


@pytest.mark.parametrize(("implements", "sides", "tonnage_kg"), [(1, 1, 160), (2, 1, 320), (1, 2, 320), (2, 2, 640)])
def test_tonnage_counts_implements_and_both_sides(implements: int, sides: int, tonnage_kg: int):
    plan = [session(1, MON, asked("1x8@20", implements=implements, sides=sides))]

    sets = matched(plan, log(MON, "8@20", of=1))

    assert sets["tonnage_g"].tolist() == [tonnage_kg * 1000]


def test_body_weight_and_bands_have_no_tonnage():
    sets = matched([], log(MON, "8 8@band"))

    assert sets["tonnage_g"].tolist() == [0, 0]


def test_the_moved_share_of_body_mass_stands_in_a_column_of_its_own():
    sets = matched([], log(MON, "10", body_g=42_000.4), exercises=[(SQUAT, 1, 2)])

    assert sets[["tonnage_g", "body_tonnage_g"]].to_numpy().tolist() == [[0, 10 * 42_000 * 2]]


def test_unplanned_work_is_counted_as_the_client_s_latest_plan_of_the_exercise_has_it():
    plan = [
        session(1, MON, asked("3x8@20", PRESS, implements=1)),
        session(2, "2026-01-12", asked("3x8@20", PRESS, implements=2)),
        session(3, "2026-01-12", asked()),
    ]

    sets = matched(plan, log(MON, {PRESS: "8@10"}, of=3), exercises=[(PRESS, 1, 1)])

    assert sets["tonnage_g"].tolist() == [8 * 10_000 * 2]


def test_of_one_day_s_plans_the_later_position_is_the_latest():
    plan = [
        session(1, MON, asked(), asked("3x8@20", PRESS, implements=2)),
        session(2, MON, asked("3x8@20", PRESS, implements=1)),
    ]

    sets = matched(plan, log("2026-01-20", {PRESS: "8@10"}))

    assert sets["tonnage_g"].tolist() == [8 * 10_000 * 2]


def test_else_as_the_studio_s_exercise_has_it_and_one_where_nothing_is_known():
    known = matched([], log(MON, {PRESS: "8@10"}), exercises=[(PRESS, 2, 2)])
    unknown = matched([], log(MON, {PRESS: "8@10"}))

    assert known["tonnage_g"].tolist() == [8 * 10_000 * 4]
    assert unknown["tonnage_g"].tolist() == [8 * 10_000]


def test_a_swapped_exercise_counts_for_the_one_it_replaced_and_is_marked():
    sets = matched([session(1, MON)], log(MON, {PRESS: "8@20"}, of=1, swapped={PRESS: SQUAT}))

    assert sets[["planned_id", "is_swapped"]].to_numpy().tolist() == [[planned_id_of(1), True]]


def test_sets_fill_by_their_number_not_by_the_order_of_filing():
    whole = record([session(1, MON, asked("1x8@20"), asked("1x12@16"))], [log(MON, "12@16 8@20", of=1)], on=MON)
    whole = replace(whole, set_logs=whole.set_logs.with_columns({"number": np.array([2, 1])}))

    sets = match_sets(whole, link_logs(whole)).to_frame()

    assert sets[["planned_row", "reps"]].to_numpy().tolist() == [[0, 8], [1, 12]]
