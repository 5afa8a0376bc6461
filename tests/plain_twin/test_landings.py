from __future__ import annotations

from tests.plain_twin.client_day import ClientDay
from tests.plain_twin.landings import round_of, stages_of
from tests.plain_twin.small_files import asked, done, look


def weekly(*loads: str, **cells: str) -> list[dict]:
    """Squat once a week at these loads, in session A."""
    return [asked(load=load, week=str(week), **cells) for week, load in enumerate(loads, start=1)]


def logged(*weeks: tuple[str, str]) -> list[list[dict]]:
    """The n-th log belongs to the n-th week."""
    return [done(day, sets, names=f"{week} A") for week, (day, sets) in enumerate(weeks, start=1)]


def loads_of(at: ClientDay) -> list[list[int]]:
    return [[exposure.row.load.grams // 1000 for exposure in landing] for landing in at.landings_of("squat")]


def test_a_landing_is_the_stay_at_one_prescribed_load_and_a_load_that_returns_starts_a_new_one():
    plan = weekly("20", "20", "22", "20")
    days = [("2026-01-05", "8@20"), ("2026-01-12", "8@20"), ("2026-01-19", "8@22"), ("2026-01-26", "8@20")]

    at = look(plan, *logged(*days), on="2026-01-26")

    assert loads_of(at) == [[20, 20], [22], [20]]


def test_a_landing_goes_on_across_blocks():
    plan = [asked(), asked(block="Next", starts_on="2026-01-12")]
    second = done("2026-01-12", block="Next")

    at = look(plan, done("2026-01-05"), second, on="2026-01-12")

    assert loads_of(at) == [[20, 20]]


def test_not_logged_other_load_and_deload_are_left_out():
    plan = [*weekly("20", "22", "24"), asked(load="16", week="4", changed="deload"), asked(load="20", week="5")]
    days = [
        ("2026-01-05", "8@20"),
        ("2026-01-12", "8@10*"),
        ("2026-01-19", "8@28 8@28 7@28"),
        ("2026-01-26", "8@16 8@16 8@16"),
        ("2026-02-02", "8@20"),
    ]

    at = look(plan, *logged(*days), on="2026-02-02")

    assert loads_of(at) == [[20, 20]]


def test_the_week_after_a_gap_of_fourteen_days_is_left_out():
    plan = weekly("20", "22", "24", "26")
    days = [("2026-01-05", "8@20"), ("2026-01-19", "8@22"), ("2026-01-25", "8@24"), ("2026-01-26", "8@26")]

    at = look(plan, *logged(*days), on="2026-01-26")

    assert loads_of(at) == [[20], [26]]


def test_any_session_ends_a_gap():
    plan = weekly("20", "22")
    extra = done("2026-01-12", {"Swim": "20"}, names="")

    at = look(plan, *logged(("2026-01-05", "8@20"), ("2026-01-19", "8@22")), extra, on="2026-01-19")

    assert loads_of(at) == [[20], [22]]


def test_a_round_is_the_run_of_rows_at_one_load_in_one_block_deload_apart():
    plan = weekly("20", "20", "22", "20")
    plan.insert(1, asked(load="16", week="5", changed="deload"))
    at = look(plan, *logged(("2026-01-05", "8@20")), on="2026-01-05")

    run = round_of(at.exposures[0].row)

    assert [row.session.week for row in run] == [1, 2]


def test_stages_are_distinct_sets_reps_and_rests_in_order_of_time():
    plan = [asked(sets=3), asked(sets=3, day="wed", session="B"), asked(sets=4, week="2"), asked(sets=3, week="3")]
    at = look(plan, done("2026-01-05"), on="2026-01-05")

    stages = stages_of(round_of(at.exposures[0].row))

    assert stages == [(3, (8, 8, 8), 75), (4, (8, 8, 8, 8), 75)]


def test_live_is_planned_again_or_suggested_within_the_last_fourteen_days():
    assert look(weekly("20"), done("2026-01-05"), on="2026-01-18").is_live("squat")
    assert not look(weekly("20"), done("2026-01-05"), on="2026-01-19").is_live("squat")
    assert look([*weekly("20"), asked(week="9")], done("2026-01-05"), on="2026-01-19").is_live("squat")
