"""Any span of days: its figures, the weeks in it, and what is told of it in whatever order."""

from __future__ import annotations

import numpy as np
import pytest

from analytics.assessment import Assessment, assess
from analytics.best_sets import find_best_sets
from analytics.episodes import find_episodes
from analytics.frame_schema import Record
from analytics.load_steps import find_load_steps
from analytics.span_figures import Spans, session_shares, span_figures, span_weeks
from analytics.table import Table
from tests.analytics.frames import assessed, log, weekly, weekly_logs
from tests.analytics.invented import invented_record
from tests.analytics.spans import days, span

SUMMED = (
    "due", "done", "partial", "told", "missed", "overdue", "awaited", "not_due", "attended", "logs", "planned_sets",
    "counted_sets", "planned_g", "dosed_g", "done_g", "timed_g", "timed_planned_g",
)  # fmt: skip
RATIOS = ("turnout", "completion", "dose", "tonnage_kg", "minutes", "density_kg_min", "session_load")
SEEDS = range(4)


def outer_days(assessment: Assessment) -> tuple[int, int]:
    of_both = [assessment.history.outcomes["suggested_day"], assessment.history.log_figures["performed_day"]]
    together = np.concatenate(of_both)
    return int(together.min()) // 7 * 7 - 10, int(together.max()) + 10


@pytest.mark.parametrize("seed", SEEDS)
def test_a_span_is_the_sum_of_its_days(seed):
    assessment = assess(invented_record(seed))
    first, last = outer_days(assessment)

    told = span_figures(assessment, days(assessment, first, last))
    each = [span_figures(assessment, days(assessment, day, day)) for day in range(first, last + 1)]

    for name in SUMMED:
        assert sum(day[name] for day in each).tolist() == told[name].tolist(), name
    for name in ("tonnage_kg", "minutes", "session_load"):
        summed = np.nansum([day[name] for day in each], axis=0)
        assert np.nan_to_num(told[name]) == pytest.approx(summed), name


@pytest.mark.parametrize("seed", SEEDS)
def test_a_span_of_one_week_is_that_week(seed):
    assessment = assess(invented_record(seed))
    weeks = assessment.weeks

    for row in range(0, len(weeks), 3):
        monday, client = int(weeks["week_start_day"][row]), int(weeks["client_row"][row])
        told = span_figures(assessment, days(assessment, monday, monday + 6))
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
