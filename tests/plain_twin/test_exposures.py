from __future__ import annotations

from fractions import Fraction

import pytest

from tests.plain_twin.exposures import Exposure
from tests.plain_twin.small_files import asked, done, look, told

# 3 x 8 @ 20 kg.
SQUAT = [asked()]


def exposure(sets: str, plan: list = SQUAT) -> Exposure:
    return look(plan, done("2026-01-05", sets), on="2026-01-05").exposures[0]


@pytest.mark.parametrize(
    ("sets", "sets_met", "reason"),
    [
        ("8@20 8@20 8@20", 3, None),
        ("8@20 8@20 7@20", 2, "reps_short"),
        ("8@20 8@20", 2, "sets_short"),
        ("8@20 8@20 8@16", 2, "load_below"),
        ("8@22 8@22 7@22", 2, "other_load"),
        ("8@20 7@20 8@20 8@20", 3, None),
        ("8@16 8@16", 0, "load_below"),
        ("8@16 8@20 8@20 7@20", 2, "reps_short"),
        ("8 8 8", 0, "load_below"),
        ("8@20*", 0, "not_logged"),
        ("0@20", 0, "not_logged"),
    ],
)
def test_sets_met_and_the_reason_of_three_times_eight_at_twenty(sets, sets_met, reason):
    found = exposure(sets)

    assert (found.sets_met, found.reason, found.met) == (sets_met, reason, sets_met >= 3)


@pytest.mark.parametrize(("load", "sets_met"), [("19.8", 3), ("19.79", 0)])
def test_ninety_nine_percent_of_the_load_is_the_load(load, sets_met):
    assert exposure(f"8@{load} 8@{load} 8@{load}").sets_met == sets_met


@pytest.mark.parametrize(("load", "reason"), [("20.2", "reps_short"), ("20.21", "other_load")])
def test_other_load_begins_above_one_hundred_and_one_percent(load, reason):
    assert exposure(f"8@{load} 8@{load} 7@{load}").reason == reason


def test_a_set_without_a_load_asked_for_is_judged_by_reps_alone():
    assert exposure("8 8@4 8", plan=[asked(load="bw")]).met


def test_each_set_is_held_to_its_own_target():
    ladder = [asked(reps="12-10-8")]

    assert exposure("12@20 10@20 8@20", plan=ladder).met
    assert exposure("12@20 9@20 9@20", plan=ladder).sets_met == 2


@pytest.mark.parametrize(("rests", "reason"), [(("75", "112"), None), (("75", "113"), "rest_over")])
def test_in_a_rest_stage_a_mean_rest_above_a_quarter_over_is_remarked(rests, reason):
    log = done("2026-01-05")
    log[0]["rest_s"], log[1]["rest_s"] = rests

    found = look([asked(changed="rest")], log, on="2026-01-05").exposures[0]

    assert (found.met, found.reason) == (True, reason)


def test_rest_is_not_remarked_in_another_stage():
    log = done("2026-01-05", rest_s="300")

    assert look([asked(changed="sets")], log, on="2026-01-05").exposures[0].reason is None


def test_the_best_e1rm_is_epley_s_up_to_ten_reps_and_of_each_implement():
    found = exposure("10@20 1@24 12@24", plan=[asked(count="2")])

    assert found.best_e1rm_kg == 20 * (1 + Fraction(10, 30))


def test_not_logged_has_no_tonnage_and_an_empty_e1rm():
    found = exposure("0@20")

    assert (found.tonnage_g, found.best_e1rm_kg) == (0, None)


def test_tonnage_counts_every_working_set_and_the_count():
    assert exposure("8@20 8@20 8@20 8@20", plan=[asked(count="2")]).tonnage_g == 1_280_000


def test_missed_and_told_sessions_second_logs_and_extras_give_none():
    plan = [asked(day=day, session=day) for day in ("mon", "wed", "fri")]
    logs = [
        done("2026-01-05", names="1 mon"),
        done("2026-01-06", names="1 mon"),
        told("2026-01-07", names="1 wed"),
        done("2026-01-20", names=""),
    ]

    at = look(plan, *logs, on="2026-01-20")

    assert [(found.row.session.label, found.performed_on.day) for found in at.exposures] == [("mon", 5)]


def test_the_order_is_performed_on_then_suggested_day_then_position():
    plan = [asked("Squat"), asked("Row"), asked("Press", day="wed", session="B")]
    both = {"Squat": "8@20", "Row": "8@20"}

    at = look(plan, done("2026-01-07", {"Press": "8@20"}, names="1 B"), done("2026-01-07", both), on="2026-01-07")

    assert [found.row.exercise for found in at.exposures] == ["squat", "row", "press"]
