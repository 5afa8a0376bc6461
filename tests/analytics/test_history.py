"""Everything about some clients that does not depend on the day."""

from __future__ import annotations

from analytics.assessment import assess
from analytics.flag_thresholds import Thresholds
from analytics.history import build_history
from tests.analytics.frames import asked, day_of, log, record, session, weekly, weekly_logs

MON = "2026-01-05"


def test_thresholds_are_the_defaults_unless_others_are_given():
    assert build_history(record(on=MON)).thresholds == Thresholds()
    assert build_history(record(on=MON), Thresholds(quiet_days=21)).thresholds.quiet_days == 21


def test_exposures_carry_their_landing_and_their_place_in_the_round():
    past = build_history(record(weekly("3x8@20", "4x8@20"), weekly_logs("8@20", "8@20"), on=MON))

    assert past.exposures.to_frame()[["landing", "stage", "stages"]].to_numpy().tolist() == [[0, 0, 2], [0, 1, 2]]


def test_one_history_answers_for_every_day():
    logs = weekly_logs("8@20 8@20 8@20", "8@20 8@20 8@20")
    earlier, later = (build_history(record(weekly("3x8@20", "3x8@20"), logs, on=day)) for day in (MON, "2026-12-31"))

    assert earlier.outcomes.to_frame().equals(later.outcomes.to_frame())
    assert earlier.exposures.to_frame().equals(later.exposures.to_frame())


def test_another_formula_gives_other_maxima_and_the_same_verdicts():
    whole = record([session(1, MON, asked("1x10@20"))], [log(MON, "10@20", of=1)], on=MON)

    epley, lombardi = build_history(whole), build_history(whole, formula="lombardi")

    assert epley.exposures["best_e1rm_kg"].round(2).tolist() == [26.67]
    assert lombardi.exposures["best_e1rm_kg"].round(2).tolist() == [25.18]
    assert epley.exposures["is_met"].tolist() == lombardi.exposures["is_met"].tolist()


def test_the_log_figures_hold_a_session_s_plan_beside_its_first_log_only():
    plan = [session(1, MON, asked("1x10@48"))]
    logs = [log(MON, "10@48", of=1), log("2026-01-06", "5@48", of=1), log("2026-01-06", {99: "5@10"})]

    figures = build_history(record(plan, logs, on=MON)).log_figures

    assert figures["tonnage_g"].tolist() == [480_000, 240_000, 50_000]
    assert figures["planned_g"].tolist() == [480_000, 0, 0]
    assert figures["has_timed_plan"].tolist() == [True, False, False]
    assert figures["performed_day"].tolist() == [day_of(MON), day_of("2026-01-06"), day_of("2026-01-06")]


def test_the_assessment_is_as_at_the_clients_day():
    told = assess(record(weekly("3x8@20", "3x8@20"), weekly_logs("8@20", "8@20"), on="2026-01-11"))

    assert len(told.history.exposures) == 2
    assert len(told.exposures) == 1
