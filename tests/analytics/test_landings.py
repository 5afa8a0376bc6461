"""How long somebody has stayed at one prescribed load, and where in its round they are."""

from __future__ import annotations

import pytest

from analytics.frame_schema import Changed
from analytics.landings import number_rounds
from tests.analytics.frames import PRESS, SQUAT, asked, assessed, log, record, session, weekly, weekly_logs

LATER = "2026-12-31"
MET = "8@20 8@20 8@20"


def landings(plan, logs) -> list[int]:
    return assessed(plan, logs, on=LATER).exposures["landing"].tolist()


def test_a_landing_is_a_run_of_equal_prescribed_loads_and_one_that_returns_starts_anew():
    plan = weekly("3x8@20", "3x8@20", "3x8@22", "3x8@22", "3x8@20")

    assert landings(plan, weekly_logs("8@20", "8@20", "8@22", "8@20", "8@20")) == [0, 0, 1, 1, 2]


def test_landings_go_on_across_blocks():
    further = asked("4x8@20")
    plan = [
        session(1, "2026-01-05"), session(2, "2026-01-12", block=2), session(3, "2026-01-19", further, block=2),
    ]

    assert landings(plan, weekly_logs(MET, MET, MET)) == [0, 0, 0]


def test_body_weight_and_a_band_are_loads_too():
    plan = weekly("3x8", "3x8", "3x8@band", "3x8")

    assert landings(plan, weekly_logs("8", "8", "8", "8")) == [0, 0, 1, 2]


def test_each_exercise_has_landings_of_its_own():
    both = asked("3x8@20", SQUAT), asked("3x8@10", PRESS)
    plan = [session(1, "2026-01-05", *both), session(2, "2026-01-12", *both)]
    logs = weekly_logs({SQUAT: "8@20", PRESS: "8@10"}, {SQUAT: "8@20", PRESS: "8@10"})

    assert landings(plan, logs) == [0, 0, 0, 0]


def test_what_was_not_logged_or_done_heavier_and_short_belongs_to_none():
    plan = [session(n, f"2026-01-{5 + 7 * (n - 1):02}", asked("3x8@20"), asked("1x8@5", PRESS)) for n in (1, 2, 3)]
    logs = weekly_logs({SQUAT: "8@20", PRESS: "8@5"}, {PRESS: "8@5"}, {SQUAT: "6@24 6@24 6@24", PRESS: "8@5"})

    assert landings(plan, logs) == [0, 0, -1, 0, -1, 0]


def test_heavier_and_met_belongs_to_its_landing():
    assert landings(weekly("3x8@20", "3x8@20"), weekly_logs(MET, "8@24 8@24 8@24")) == [0, 0]


def test_a_deload_parts_no_landing_and_belongs_to_none():
    plan = [
        session(1, "2026-01-05"), session(2, "2026-01-12", asked("2x8@16", changed=Changed.DELOAD)),
        session(3, "2026-01-19"),
    ]

    assert landings(plan, weekly_logs(MET, "8@16 8@16", MET)) == [0, -1, 0]


@pytest.mark.parametrize(
    ("return_on", "expected"),
    [("2026-01-18", [0, 0, 0, 0]), ("2026-01-19", [0, -1, -1, 0])],
)
def test_the_first_week_after_fourteen_days_off_belongs_to_none(return_on: str, expected: list[int]):
    """Trained on the 5th; back on the 18th or 19th, then on the 25th and the 26th."""
    plan = weekly(*["3x8@20"] * 4)
    days = ["2026-01-05", return_on, "2026-01-25", "2026-01-26"]

    assert landings(plan, [log(day, MET, of=number) for number, day in enumerate(days, start=1)]) == expected


def test_a_gap_is_one_between_sessions_of_any_kind():
    plan = weekly("3x8@20", "3x8@20", "3x8@20")
    extra = log("2026-01-12", {99: "8@5"})

    assert landings(plan, [*weekly_logs(MET, "", MET), extra]) == [0, 0]
    assert landings(plan, weekly_logs(MET, "", MET)) == [0, -1]


def rounds(*plan) -> list[tuple[int, int, int]]:
    """Round, stage and number of stages of each planned exercise; rounds are numbered as they first appear."""
    told = number_rounds(record(plan, on=LATER))
    seen: dict[int, int] = {-1: -1}
    return [
        (seen.setdefault(row.round, len(seen) - 1), row.stage, row.stages) for row in told.to_frame().itertuples()
    ]


def test_a_round_is_the_run_at_one_load_and_its_stages_are_its_distinct_sets_reps_and_rests():
    plan = weekly("3x8@20", "4x8@20", "4x10@20", "3x8@22", "4x8@22")

    assert rounds(*plan) == [(0, 0, 3), (0, 1, 3), (0, 2, 3), (1, 0, 2), (1, 1, 2)]


def test_a_stage_met_again_is_the_same_stage():
    assert rounds(*weekly("3x8@20", "3x8@20", "4x8@20", "3x8@20")) == [(0, 0, 2), (0, 0, 2), (0, 1, 2), (0, 0, 2)]


def test_rest_and_targets_of_each_set_make_a_stage_too():
    plan = [
        session(1, "2026-01-05", asked("3x8@20", rest_s=75)), session(2, "2026-01-12", asked("3x8@20", rest_s=60)),
        session(3, "2026-01-19", asked("12-10-8@20")), session(4, "2026-01-26", asked("10-10-8@20")),
    ]

    assert [stage for _, stage, _ in rounds(*plan)] == [0, 1, 2, 3]


def test_a_block_ends_a_round():
    assert rounds(session(1, "2026-01-05"), session(2, "2026-01-12", block=2)) == [(0, 0, 1), (1, 0, 1)]


def test_a_deload_is_apart_and_ends_no_round():
    plan = (
        session(1, "2026-01-05"), session(2, "2026-01-12", asked("2x8@20", changed=Changed.DELOAD)),
        session(3, "2026-01-19", asked("4x8@20")),
    )

    assert rounds(*plan) == [(0, 0, 2), (-1, -1, -1), (0, 1, 2)]


def test_an_exercise_twice_in_a_session_goes_through_its_rounds_by_position():
    plan = (
        session(1, "2026-01-05", asked("2x5@24"), asked("3x8@20")),
        session(2, "2026-01-12", asked("2x5@24"), asked("3x8@20")),
    )

    assert [number for number, _, _ in rounds(*plan)] == [0, 1, 2, 3]
