"""Results of the analytics layer equal those of SQL over the same rows, on invented rosters, as at several days."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from pandas.testing import assert_frame_equal

from analytics.assessment import assess
from analytics.findings_schema import Kind
from analytics.frame_schema import ABSENT, Record, build_frame
from tests.analytics.invented import invented_record
from tests.bench.sizes import draw_record
from tests.oracle.answers import oracle_answers
from tests.oracle.product import product_answers

SEEDS = range(20, 26)
WEEKS = (3, 9, 13, 18)


def enriched(record: Record, seed: int) -> Record:
    """With what no file of logs holds: swaps, reps left, body mass, alarms, ties to regions and none, people gone."""
    dice = np.random.default_rng(seed)
    sets, exercises = record.set_logs, record.exercises["exercise_id"]
    is_swapped = dice.random(len(sets)) < 0.05
    named = record.pain_reports["region_code"]
    regions = np.append(np.unique(named[named >= 0]), ABSENT)
    return replace(
        record,
        clients=record.clients.to_frame().assign(is_active=dice.random(len(record.clients)) < 0.9),
        set_logs=sets.to_frame().assign(
            exercise_id=np.where(is_swapped, dice.choice(exercises, len(sets)), sets["exercise_id"]),
            reps_left=dice.choice([-1, -1, -1, -1, 0, 1], len(sets)),
            body_g=np.where(dice.random(len(sets)) < 0.2, dice.uniform(20_000, 60_000, len(sets)), np.nan),
        ),
        exercises=record.exercises.to_frame().assign(
            implements=dice.choice([1, 2], exercises.size), sides=dice.choice([1, 2], exercises.size)
        ),
        pain_reports=record.pain_reports.to_frame().assign(is_alarm=dice.random(len(record.pain_reports)) < 0.02),
        exercise_regions=build_frame("exercise_regions", {
            "exercise_id": dice.choice(exercises, 3 * regions.size), "region_code": np.repeat(regions, 3),
        }),
    )


def assert_equal_tables(record: Record) -> dict[str, int]:
    """Integers exactly, ratios and means but for the rounding of a sum; answers how many rows each table has."""
    expected, told = oracle_answers(record), product_answers(assess(record))
    for name, table in expected.items():
        actual = told[name][table.columns].reset_index(drop=True)
        assert_frame_equal(actual, table.astype(actual.dtypes), rtol=1e-9, atol=0, obj=name)
    return {name: len(table) for name, table in expected.items()}


@pytest.mark.parametrize("week", WEEKS)
@pytest.mark.parametrize("seed", SEEDS)
def test_every_table_is_what_sql_makes_of_the_same_rows(seed, week):
    record = enriched(invented_record(seed, week=week, clients=6, weeks=18), seed)

    assert_equal_tables(record)


def test_sql_agrees_on_a_roster_drawn_for_the_bench():
    rows = assert_equal_tables(draw_record(clients=12, weeks=20))

    assert rows["findings"] > 30


def test_every_kind_of_finding_is_among_those_compared():
    kinds = {
        kind
        for seed in SEEDS
        for week in WEEKS
        for kind in assess(invented_record(seed, week=week, clients=6, weeks=18)).findings["kind"].tolist()
    }

    assert kinds == {int(kind) for kind in Kind}
