from __future__ import annotations

from datetime import date
from fractions import Fraction

from tests.plain_twin.client_day import ClientDay
from tests.plain_twin.small_files import asked, done, look, record_of, told
from tests.plain_twin.spans import best_sets, episodes, figures_of_span, load_steps

JANUARY = date(2026, 1, 1), date(2026, 1, 31)


def weeks_at(*loads: str) -> list:
    return [asked(week=str(number), load=load) for number, load in enumerate(loads, start=1)]


def january(plan: list, *logs: list) -> ClientDay:
    return look(plan, *logs, on="2026-01-31")


def test_a_span_counts_sessions_by_their_suggested_day_and_logs_by_the_day_performed():
    at = january(weeks_at("20", "20"), done("2026-01-06", names="1 A"), told("2026-01-13", names="2 A"))

    first_week = figures_of_span(at, date(2026, 1, 5), date(2026, 1, 12))

    assert (first_week["due"], first_week["attended"], first_week["logs"]) == (2, 2, 1)
    assert first_week["tonnage_kg"] == 480


def test_a_step_is_taken_on_the_first_day_at_the_higher_load():
    at = january(
        weeks_at("20", "24", "24"), done("2026-01-05"), done("2026-01-12", "8@20", names="2 A"),
        done("2026-01-19", "8@24", names="3 A"),
    )  # fmt: skip

    (step,) = load_steps(at)

    assert (step.from_kg, step.to_kg, step.taken_on) == (20, 24, date(2026, 1, 19))


def test_a_step_that_nobody_lifted_was_not_taken():
    at = january(weeks_at("20", "24"), done("2026-01-05"), done("2026-01-12", "8@20", names="2 A"))

    assert load_steps(at) == []


def test_the_best_set_has_the_highest_e1rm_and_of_equal_ones_is_the_first():
    at = january(weeks_at("20", "20"), done("2026-01-05", "8@20 9@20"), done("2026-01-12", "9@20", names="2 A"))

    (best,) = best_sets(at, *JANUARY)

    assert (best.performed_on, best.reps, best.e1rm_kg) == (date(2026, 1, 5), 9, Fraction(26))


def test_twelve_reps_are_no_worse_than_nine_at_that_load():
    (best,) = best_sets(january(weeks_at("20"), done("2026-01-05", "9@20 12@20")), *JANUARY)

    assert (best.reps, best.e1rm_kg) == (12, None)


def test_an_episode_begins_before_the_days_looked_at_and_ends_within_them():
    plan = weeks_at(*["20"] * 5)
    short = [done(f"2026-01-{day}", "6@20", names=f"{week} A") for week, day in ((1, "05"), (2, "12"), (3, "19"))]
    record = record_of(plan, *short, done("2026-01-26", names="4 A"))

    found = episodes(record, record.clients[0], date(2026, 1, 20), JANUARY[1])

    (stall,) = [one for one in found if one.kind == "stall"]
    assert (stall.urgency, stall.opened_on, stall.ended_on) == ("act", date(2026, 1, 12), date(2026, 1, 26))
