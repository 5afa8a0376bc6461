"""The figures of a client's week: by the week planned, and by the week performed."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from analytics.frame_schema import Sends
from tests.analytics.frames import PRESS, SQUAT, asked, assessed, client, day_of, log, session, weekly

MON, SUNDAY, NEXT_MON = "2026-01-05", "2026-01-11", "2026-01-12"
LATER = "2026-01-31"


def weeks(plan=(), logs=(), on: str = LATER, **about) -> pd.DataFrame:
    return assessed(plan, logs, on=on, **about).weeks.to_frame()


def week(plan=(), logs=(), on: str = LATER, **about) -> pd.Series:
    """The first one."""
    return weeks(plan, logs, on, **about).iloc[0]


def thrice(*texts: str) -> list:
    return [
        session(number, day, asked(text))
        for number, (day, text) in enumerate(zip((MON, "2026-01-07", "2026-01-09"), texts, strict=True), start=1)
    ]


def test_a_row_for_each_week_up_to_the_day_that_has_a_planned_session_or_a_log():
    plan, logs = weekly("3x8@20", "3x8@20", "3x8@20"), [log("2025-12-30"), log("2026-01-27")]

    told = weeks(plan, logs, on="2026-01-14")

    mondays = ["2025-12-29", "2026-01-05", "2026-01-12"]
    assert told["week_start_day"].tolist() == [day_of(monday) for monday in mondays]


def test_the_week_of_the_day_is_there_with_what_is_still_to_come():
    told = weeks([session(1, SUNDAY)], on=MON).iloc[0]

    assert told[["due", "done", "missed", "overdue"]].tolist() == [0, 0, 0, 0]
    assert told[["turnout", "completion", "dose", "tonnage_kg", "minutes", "density_kg_min"]].isna().all()


def test_sessions_are_counted_by_status():
    plan = thrice("5x8@20", "5x8@20", "5x8@20")
    logs = [log(MON, "8@20 8@20 8@20 8@20 8@20", of=1), log("2026-01-07", "8@20", of=2)]

    told = week(plan, logs)

    assert told[["due", "done", "partial", "told", "missed", "overdue"]].tolist() == [3, 1, 1, 0, 1, 0]
    assert told["turnout"] == pytest.approx(2 / 3)
    assert told["completion"] == pytest.approx((1 + 0.2 + 0) / 3)


def test_told_without_details_counts_for_turnout_and_for_neither_completion_nor_dose():
    plan = thrice("3x8@20", "3x8@20", "3x8@20")
    logs = [log(MON, "", of=1), log("2026-01-07", "8@20 8@20 8@20", of=2)]

    told = week(plan, logs)

    assert told[["due", "told", "done", "missed"]].tolist() == [3, 1, 1, 1]
    assert told["turnout"] == pytest.approx(2 / 3)
    assert told["completion"] == told["dose"] == 0.5


def test_awaited_and_not_due_are_counted_and_not_due():
    plan = [session(1, MON), session(2, "2026-01-07")]

    told = week(plan, on=SUNDAY, clients=[client(sends=Sends.WEEKLY)], pauses=[("2026-01-07", "2026-01-08")])

    assert told[["due", "awaited", "not_due"]].tolist() == [0, 1, 1]
    assert np.isnan(told["turnout"])


def test_dose_is_a_ratio_of_sums_and_the_uncapped_one_stands_beside_it():
    plan = [session(1, MON, asked("1x10@48", SQUAT), asked("1x10@16", PRESS))]

    told = week(plan, [log(MON, {SQUAT: "10@96", PRESS: "5@16"}, of=1)])

    assert told["dose"] == (480 + 80) / 640
    assert told["dose_uncapped"] == (960 + 80) / 640


def test_a_missed_session_is_in_the_dose_with_nothing_done():
    assert week(thrice("1x10@48", "1x10@48", "1x10@48"), [log(MON, "10@48", of=1)])["dose"] == pytest.approx(1 / 3)


def test_without_planned_loads_there_is_no_dose():
    told = week([session(1, MON, asked("3x8"))], [log(MON, "8 8 8", of=1)])

    assert told[["completion", "tonnage_kg"]].tolist() == [1, 0]
    assert np.isnan(told["dose"])


def test_a_session_done_later_counts_where_it_was_planned_and_moves_where_it_was_done():
    told = weeks([session(1, MON, asked("1x10@48"))], [log(NEXT_MON, "10@48", of=1, minutes=20)])

    assert told["done"].tolist() == [1, 0]
    assert told["dose"].fillna(-1).tolist() == [1, -1]
    assert told["tonnage_kg"].fillna(-1).tolist() == [-1, 480]
    assert told["minutes"].fillna(-1).tolist() == [-1, 20]


def test_second_logs_and_extra_sessions_move_and_complete_nothing():
    logs = [log(MON, "10@48", of=1), log("2026-01-06", "10@48", of=1), log("2026-01-07", {99: "10@10"})]

    told = week([session(1, MON, asked("2x10@48"))], logs)

    assert told["tonnage_kg"] == 480 + 480 + 100
    assert told[["done", "partial", "completion", "dose"]].tolist() == [0, 1, 0.5, 0.5]


def test_density_is_over_the_logs_with_details_and_minutes():
    logs = [log(MON, "10@48", minutes=30), log("2026-01-06", "10@48"), log("2026-01-07", "", minutes=40)]

    told = week([], logs)

    assert told[["tonnage_kg", "minutes", "density_kg_min"]].tolist() == [960, 70, 16]


def test_density_of_a_week_is_a_ratio_of_sums():
    logs = [log(MON, "10@40", minutes=20), log("2026-01-06", "10@20", minutes=40)]

    assert week([], logs)["density_kg_min"] == 10


def test_session_load_is_effort_times_minutes_where_both_are_there():
    logs = [log(MON, minutes=30, effort=6), log("2026-01-06", minutes=30), log("2026-01-07", effort=9),
            log("2026-01-08", "", minutes=20, effort=5)]

    assert week([], logs)["session_load"] == 30 * 6 + 20 * 5


def test_what_is_unknown_is_empty_and_never_nothing():
    plan = [session(1, MON)]

    told_only = week(plan, [log(MON, "", of=1)])
    no_minutes = week(plan, [log(MON, of=1, effort=5)])

    assert told_only[["tonnage_kg", "density_kg_min", "minutes", "session_load", "completion", "dose"]].isna().all()
    assert no_minutes[["minutes", "density_kg_min", "session_load"]].isna().all()
    assert no_minutes["tonnage_kg"] == 480


def test_body_mass_has_a_column_of_its_own():
    told = weeks([], [log(MON, "10 10", body_g=50_000), log(NEXT_MON, "10 10")])

    assert told["body_mass_tonnage_kg"].fillna(-1).tolist() == [1000, -1]
    assert told["tonnage_kg"].tolist() == [0, 0]


def test_splitting_a_load_between_logs_changes_no_tonnage():
    whole = week([], [log(MON, "10@48 10@48 10@48", minutes=30)])
    parted = week([], [log(MON, "10@48", minutes=10), log("2026-01-06", "10@48 10@48", minutes=20)])
    halved = week([], [log(MON, "10@24 10@24 10@24 10@24 10@24 10@24", minutes=30)])

    columns = ["tonnage_kg", "minutes", "density_kg_min"]
    assert whole[columns].tolist() == parted[columns].tolist() == halved[columns].tolist()


def test_grams_are_summed_exactly():
    """A tenth of a kilogram, ten times, is one kilogram."""
    assert week([], [log(MON, " ".join(["1@0.1"] * 10))])["tonnage_kg"] == 1


def test_weeks_are_ordered_by_client_and_week():
    logs = [log(NEXT_MON, client=5), log(MON, client=5), log(MON, client=9)]

    told = weeks([], logs, clients=[client(9), client(5)])

    assert told[["client_row", "week_start_day"]].to_numpy().tolist() == [
        [0, day_of(MON)], [1, day_of(MON)], [1, day_of(NEXT_MON)],
    ]
