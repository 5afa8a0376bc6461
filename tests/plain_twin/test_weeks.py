from __future__ import annotations

from fractions import Fraction

from tests.plain_twin.small_files import asked, done, look, told
from tests.plain_twin.weeks import week_figures

# 3 x 8 @ 20 kg: 480 kg.
MONDAY = [asked()]


def week_of(plan: list, *logs: list, on: str = "2026-01-18", week: str = "2026-W02", **client_cells: str) -> dict:
    return week_figures(look(plan, *logs, on=on, **client_cells))[week]


def test_a_week_counts_its_sessions_by_status():
    plan = [asked(day=day, session=day) for day in ("mon", "wed", "fri")]

    week = week_of(plan, done("2026-01-05", names="1 mon"), told("2026-01-07", names="1 wed"))

    assert [week[name] for name in ("due", "done", "partial", "told", "missed")] == [3, 1, 0, 1, 1]
    assert week["turnout"] == Fraction(2, 3)


def test_completion_is_the_mean_over_due_sessions_but_told():
    plan = [asked(day=day, session=day) for day in ("mon", "wed", "fri")]

    week = week_of(plan, done("2026-01-05", names="1 mon"), told("2026-01-07", names="1 wed"))

    assert week["completion"] == Fraction(1 + 0, 2)


def test_weeks_have_a_plan_or_a_log_and_go_up_to_the_day_s_own():
    plan = [asked(), asked(week="2", session="B"), asked(week="3", session="C")]

    at = look(plan, done("2025-12-31", names=""), on="2026-01-12")

    assert list(week_figures(at)) == ["2026-W01", "2026-W02", "2026-W03"]


def test_the_last_days_of_2026_are_in_its_fifty_third_week():
    assert list(week_figures(look([], done("2027-01-03", names=""), on="2027-01-03"))) == ["2026-W53"]


def test_tonnage_belongs_to_the_week_performed_and_dose_to_the_week_planned():
    at = look(MONDAY, done("2026-01-12"), on="2026-01-18")

    weeks = week_figures(at)

    assert (weeks["2026-W02"]["tonnage_kg"], weeks["2026-W02"]["dose"]) == (None, 1)
    assert (weeks["2026-W03"]["tonnage_kg"], weeks["2026-W03"]["dose"]) == (480, None)


def test_tonnage_multiplies_by_count_and_by_sides():
    plan = [asked("Press", sets=1, reps="8", load="10", count="2"), asked("Row", sets=1, reps="8 each", load="10")]

    week = week_of(plan, done("2026-01-05", {"Press": "8@10", "Row": "8@10"}))

    assert week["tonnage_kg"] == 160 + 160


def test_tonnage_leaves_out_warm_ups_and_sets_without_a_load():
    assert week_of(MONDAY, done("2026-01-05", "8@20* 8@20 8"))["tonnage_kg"] == 160


def test_pounds_are_rounded_to_grams_once():
    # 45 lb = 20 411.656 65 g, rounded to 20 412 g.
    week = week_of([asked(sets=1, load="45")], done("2026-01-05", "10@45"), unit="lb")

    assert week["tonnage_kg"] == Fraction(204120, 1000)


def test_an_unplanned_exercise_takes_the_count_of_the_client_s_latest_plan_of_it():
    plan = [asked(count="1"), asked("Row", week="2", session="B"), asked(count="2", week="3", session="C")]

    week = week_of(plan, done("2026-01-12", {"Row": "8@20", "Squat": "8@20"}, names="2 B"), week="2026-W03")

    assert week["tonnage_kg"] == 160 + 320


def test_an_exercise_never_planned_counts_once():
    assert week_of(MONDAY, done("2026-01-05", {"Swing": "10@16"}, names=""))["tonnage_kg"] == 160


def test_a_second_log_counts_in_tonnage_and_minutes_and_in_no_completion_or_dose():
    logs = [done("2026-01-05", "8@20", minutes="20"), done("2026-01-06", minutes="30")]

    week = week_of(MONDAY, *logs)

    assert (week["tonnage_kg"], week["minutes"]) == (160 + 480, 50)
    assert (week["completion"], week["dose"]) == (Fraction(1, 3), Fraction(160, 480))


def test_density_is_a_ratio_of_sums_over_logs_with_details_and_minutes():
    logs = [done("2026-01-05", minutes="20"), done("2026-01-06"), told("2026-01-07", names="", minutes="40")]

    week = week_of(MONDAY, *logs)

    assert week["density_kg_min"] == Fraction(480, 20)
    assert week["minutes"] == 60


def test_session_load_is_effort_times_minutes_where_both_are_there():
    logs = [done("2026-01-05", minutes="30", rpe="7"), done("2026-01-06", minutes="30"), done("2026-01-07", rpe="9")]

    assert week_of(MONDAY, *logs)["session_load"] == 210


def test_dose_caps_each_exercise_and_the_uncapped_ratio_stands_beside_it():
    plan = [asked("Squat"), asked("Row", load="10")]

    week = week_of(plan, done("2026-01-05", {"Squat": "8@24 8@24 8@24", "Row": "8@10"}))

    assert week["dose"] == Fraction(480 + 80, 480 + 240)
    assert week["dose_uncapped"] == Fraction(576 + 80, 720)


def test_a_missed_session_is_in_the_dose_s_denominator_and_a_told_one_is_not():
    plan = [asked(day=day, session=day) for day in ("mon", "wed", "fri")]

    week = week_of(plan, done("2026-01-05", names="1 mon"), told("2026-01-07", names="1 wed"))

    assert week["dose"] == Fraction(480, 960)


def test_empty_means_unknown_and_never_zero():
    week = week_of(MONDAY, told("2026-01-05"))

    unknown = ("tonnage_kg", "minutes", "density_kg_min", "session_load", "completion", "dose", "dose_uncapped")
    assert [week[name] for name in unknown] == [None] * 7


def test_tonnage_of_body_weight_alone_is_zero_and_its_dose_is_empty():
    week = week_of([asked(load="bw")], done("2026-01-05", "8 8 8"))

    assert (week["tonnage_kg"], week["dose"]) == (0, None)


def test_nothing_due_leaves_turnout_completion_and_dose_empty():
    week = week_of(MONDAY, on="2026-01-05")

    assert (week["due"], week["turnout"], week["completion"], week["dose"]) == (0, None, None, None)
