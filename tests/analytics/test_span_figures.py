"""Any span of days: its figures, the weeks in it, the load steps and best sets, and what was found."""

from __future__ import annotations

import numpy as np
import pytest

from analytics.assessment import Assessment, assess
from analytics.best_sets import find_best_sets
from analytics.episodes import find_episodes
from analytics.findings_schema import Kind
from analytics.frame_schema import Changed, Measure, Record
from analytics.load_steps import find_load_steps
from analytics.span_figures import Spans, session_shares, span_figures, span_weeks
from analytics.table import Table
from tests.analytics.frames import PRESS, SQUAT, asked, assessed, day_of, log, session, weekly, weekly_logs
from tests.analytics.invented import invented_record

SUMMED = (
    "due", "done", "partial", "told", "missed", "overdue", "awaited", "not_due", "attended", "logs", "planned_sets",
    "counted_sets", "planned_g", "dosed_g", "done_g", "timed_g", "timed_planned_g",
)  # fmt: skip
RATIOS = ("turnout", "completion", "dose", "tonnage_kg", "minutes", "density_kg_min", "session_load")
SEEDS = range(4)


def span(assessment: Assessment, first: str, last: str) -> Spans:
    count = len(assessment.history.record.clients)
    return Spans(np.full(count, day_of(first)), np.full(count, day_of(last)))


def whole(assessment: Assessment, first: int, last: int) -> Spans:
    count = len(assessment.history.record.clients)
    return Spans(np.full(count, first), np.full(count, last))


def outer_days(assessment: Assessment) -> tuple[int, int]:
    days = [assessment.history.outcomes["suggested_day"], assessment.history.log_figures["performed_day"]]
    together = np.concatenate(days)
    return int(together.min()) // 7 * 7 - 10, int(together.max()) + 10


@pytest.mark.parametrize("seed", SEEDS)
def test_a_span_is_the_sum_of_its_days(seed):
    assessment = assess(invented_record(seed))
    first, last = outer_days(assessment)

    told = span_figures(assessment, whole(assessment, first, last))
    days = [span_figures(assessment, whole(assessment, day, day)) for day in range(first, last + 1)]

    for name in SUMMED:
        assert sum(day[name] for day in days).tolist() == told[name].tolist(), name
    for name in ("tonnage_kg", "minutes", "session_load"):
        summed = np.nansum([day[name] for day in days], axis=0)
        assert np.nan_to_num(told[name]) == pytest.approx(summed), name


@pytest.mark.parametrize("seed", SEEDS)
def test_a_span_of_one_week_is_that_week(seed):
    assessment = assess(invented_record(seed))
    weeks = assessment.weeks

    for row in range(0, len(weeks), 3):
        monday, client = int(weeks["week_start_day"][row]), int(weeks["client_row"][row])
        told = span_figures(assessment, whole(assessment, monday, monday + 6))
        for name in (*RATIOS, *(name for name in SUMMED if name not in ("attended", "logs"))):
            assert told[name][client] == pytest.approx(weeks[name][row], rel=1e-12, nan_ok=True), name


@pytest.mark.parametrize("seed", SEEDS)
def test_the_weeks_of_all_days_are_the_weeks(seed):
    assessment = assess(invented_record(seed))
    as_of = assessment.history.record.clients["as_of_day"]
    first, _ = outer_days(assessment)
    sunday = as_of + (3 - as_of) % 7

    told = span_weeks(assessment, Spans(np.full(as_of.size, first), sunday))

    for name in ("client_row", "week_start_day", "due", "done", "tonnage_kg", "dose", "completion"):
        np.testing.assert_array_equal(told[name], assessment.weeks[name], err_msg=name)


def of_span(assessment: Assessment) -> list[Table]:
    """Everything that is told of two months of each client, in an order of its own."""
    as_of = assessment.history.record.clients["as_of_day"]
    spans = Spans(as_of - 60, as_of - 3)
    steps, held = find_load_steps(assessment.history), find_episodes(assessment.rules, spans)
    return [
        span_figures(assessment, spans), span_weeks(assessment, spans), steps, find_best_sets(assessment, spans),
        # But the row of its evidence, which is another in another order.
        Table({name: held[name] for name in held.names if name != "row"}),
    ]  # fmt: skip


@pytest.mark.parametrize("seed", SEEDS)
def test_the_order_of_rows_changes_nothing_told_of_a_span(seed):
    record = invented_record(seed)
    frames = record.to_frames()
    shuffled = {name: frame.sample(frac=1, random_state=seed) for name, frame in frames.items() if name != "clients"}

    told = of_span(assess(Record(**{**frames, **shuffled})))

    for table, expected in zip(told, of_span(assess(record)), strict=True):
        for name in expected.names:
            np.testing.assert_allclose(table[name], expected[name], rtol=1e-12, err_msg=name)


def test_sessions_and_logs_on_either_side_of_the_span_are_left_out():
    plan, logs = weekly("3x8@20", "3x8@20", "3x8@20"), weekly_logs(*["8@20 8@20 8@20"] * 3)
    assessment = assessed(plan, logs, on="2026-01-31")

    told = span_figures(assessment, span(assessment, "2026-01-06", "2026-01-12")).records()[0]

    assert (told["due"], told["attended"], told["logs"], told["tonnage_kg"]) == (1, 1, 1, 480)


def test_a_log_after_the_as_of_day_is_not_read():
    assessment = assessed(weekly("3x8@20"), [log("2026-01-07", of=1)], on="2026-01-06")

    told = span_figures(assessment, span(assessment, "2026-01-01", "2026-01-31")).records()[0]

    assert (told["logs"], told["attended"]) == (0, 0)
    assert np.isnan(told["tonnage_kg"])


def test_nothing_known_is_unknown_and_never_zero():
    assessment = assessed([], [], on="2026-01-31")

    told = span_figures(assessment, span(assessment, "2026-01-01", "2026-01-31")).records()[0]

    assert all(np.isnan(told[name]) for name in RATIOS)


def test_the_sessions_of_a_span_each_with_its_shares():
    plan = weekly("4x8@20", "4x8@20", "4x8@20")
    logs = [log("2026-01-05", "8@20 8@20", of=1, minutes=20), log("2026-01-12", "", of=2)]
    assessment = assessed(plan, logs, on="2026-01-31")

    told = session_shares(assessment, span(assessment, "2026-01-01", "2026-01-31"))

    # Half done, told left out, missed nothing done and without a density. Asked: 640 kg in 13.35 min.
    assert told["completion"].tolist() == told["dose"].tolist() == [0.5, 0.0]
    assert told["density"][0] == pytest.approx((320 / 20) / (640 / (4 * 24 + 3 * 75 + 300) * 60))
    assert np.isnan(told["density"][1])


def steps(*asked_for: str, done: tuple[str, ...]) -> list[tuple[int, int, int]]:
    found = find_load_steps(assessed(weekly(*asked_for), weekly_logs(*done), on="2026-03-01").history)
    return [(row["from_load_g"], row["to_load_g"], row["taken_day"]) for row in found.records()]


def test_a_step_is_taken_when_its_load_is_lifted():
    told = steps("1x8@20", "1x8@22", "1x8@22", done=("8@20", "8@20", "8@22"))

    assert told == [(20_000, 22_000, day_of("2026-01-19"))]


def test_fewer_reps_at_the_new_load_are_a_step_taken():
    assert len(steps("1x8@20", "1x8@22", done=("8@20", "3@22"))) == 1


def test_a_lower_load_is_no_step_and_up_again_is_one():
    told = steps("1x8@20", "1x8@22", "1x8@20", "1x8@22", done=("8@20", "8@22", "8@20", "8@22"))

    assert [day for *_, day in told] == [day_of("2026-01-12"), day_of("2026-01-26")]


def test_from_body_weight_to_a_load_is_no_load_step():
    assert steps("1x8", "1x8@10", done=("8", "8@10")) == []


def test_a_deload_is_no_landing_and_coming_back_from_it_no_step():
    plan = weekly("1x8@20", "1x8@16", "1x8@20")
    plan[1] = session(2, "2026-01-12", asked("1x8@16", changed=Changed.DELOAD), week=2)

    assert len(find_load_steps(assessed(plan, weekly_logs("8@20", "8@16", "8@20"), on="2026-03-01").history)) == 0


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


def episodes(logs, first: str, last: str, plan=None) -> list[dict]:
    assessment = assessed(plan or weekly(*["3x8@20"] * 6), logs, on="2026-03-01")
    return find_episodes(assessment.rules, span(assessment, first, last)).records()


def test_a_stall_that_was_over_within_the_span_is_told_with_both_its_days():
    logs = weekly_logs("6@20 6@20 6@20", "6@20 6@20 6@20", "6@20 6@20 6@20", "8@20 8@20 8@20", "8@20", "")

    stalls = [one for one in episodes(logs, "2026-01-20", "2026-01-31") if one["kind"] == Kind.STALL]

    (told,) = stalls
    assert told["opened_day"] == day_of("2026-01-12")
    assert told["ended_day"] == day_of("2026-01-26")


def test_what_still_holds_on_the_last_day_has_no_end():
    logs = weekly_logs("6@20 6@20 6@20", "6@20 6@20 6@20", "", "", "", "")

    told = [one for one in episodes(logs, "2026-01-10", "2026-01-14") if one["kind"] == Kind.STALL]

    assert [(one["opened_day"], one["ended_day"]) for one in told] == [(day_of("2026-01-12"), -1)]


@pytest.mark.parametrize("seed", SEEDS)
def test_what_holds_on_the_last_day_is_what_is_found_as_at_it(seed):
    assessment = assess(invented_record(seed))
    as_of = assessment.history.record.clients["as_of_day"]

    told = find_episodes(assessment.rules, Spans(as_of - 40, as_of))
    still = told.rows(told["ended_day"] < 0)

    for name in ("client_row", "kind", "urgency", "opened_day", "row", "count"):
        assert sorted(still[name].tolist()) == sorted(assessment.findings[name].tolist()), name


def test_more_days_than_are_asked_at_once_make_no_break():
    logs = weekly_logs("6@20 6@20 6@20", "6@20 6@20 6@20")

    told = [one for one in episodes(logs, "2026-01-05", "2026-02-20") if one["kind"] == Kind.STALL]

    assert len(told) == 1
