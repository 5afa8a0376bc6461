"""Joins and groups on integer keys, against plain dictionaries and loops."""

from __future__ import annotations

from itertools import groupby

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from analytics.sorted_keys import (
    DayLookup,
    dense_codes,
    expand_ranges,
    float_sum_by,
    order_by,
    pack,
    positions_of,
    rank_in_run,
    run_starts,
    sum_by,
)

SMALL = st.integers(-1, 6)
LISTS = st.lists(SMALL, max_size=20)
PAIRS = st.lists(st.tuples(SMALL, SMALL), max_size=20)


def ints(numbers: list[int]) -> np.ndarray:
    return np.asarray(numbers, dtype=np.int64)


def columns(pairs: list[tuple[int, int]]) -> tuple[np.ndarray, np.ndarray]:
    return ints([first for first, _ in pairs]), ints([second for _, second in pairs])


@given(LISTS, st.lists(SMALL, max_size=8, unique=True))
def test_positions_are_those_of_a_dictionary(wanted: list[int], ids: list[int]):
    place = {pk: row for row, pk in enumerate(ids)}

    assert positions_of(ints(wanted), ints(ids)).tolist() == [place.get(pk, -1) for pk in wanted]


# Few rows are sorted by column, many as packed numbers, and numbers too far apart for that by column again.
@pytest.mark.parametrize("rows", [0, 1, 30, 5_000])
@pytest.mark.parametrize("widest", [3, 10**6, 2**61])
def test_rows_come_in_order_of_the_columns_and_equal_ones_stay_as_they_are(rows: int, widest: int):
    dice = np.random.default_rng(rows)
    first, second = dice.integers(-2, 3, rows), dice.integers(-widest, widest, rows)

    order = order_by(first, second)

    assert order.tolist() == sorted(range(rows), key=lambda row: (first[row], second[row]))


def test_numbers_too_wide_for_one_are_not_packed():
    assert pack(ints([0, 2**40]), ints([0, 2**40])) is None


@pytest.mark.parametrize("spread", [1, 3, 10**9])
def test_many_positions_are_those_of_a_dictionary_too(spread: int):
    dice = np.random.default_rng(spread)
    ids = dice.permutation(4_000) * spread + 17
    wanted = np.concatenate([dice.choice(ids, 3_000), ids[:50] + 1, ints([-1, 0, 2**62])])
    place = {pk: row for row, pk in enumerate(ids.tolist())}

    assert positions_of(wanted, ids).tolist() == [place.get(pk, -1) for pk in wanted.tolist()]


@given(PAIRS)
def test_codes_number_the_distinct_combinations_in_order(pairs: list[tuple[int, int]]):
    distinct = sorted(set(pairs))

    codes, count = dense_codes(*columns(pairs))

    assert codes.tolist() == [distinct.index(pair) for pair in pairs]
    assert count == len(distinct)


@given(PAIRS)
def test_runs_start_and_rank_as_a_loop_finds_them(pairs: list[tuple[int, int]]):
    runs = [list(run) for _, run in groupby(range(len(pairs)), key=lambda row: pairs[row])]

    starts = run_starts(*columns(pairs))

    assert np.flatnonzero(starts).tolist() == [run[0] for run in runs]
    assert rank_in_run(starts).tolist() == [rank for run in runs for rank in range(len(run))]


@given(st.lists(st.tuples(SMALL, st.integers(-(10**12), 10**12)), max_size=20))
def test_sums_by_group_are_exact_and_leave_out_what_is_of_none(pairs: list[tuple[int, int]]):
    groups, amounts = columns(pairs)

    expected = [sum(amount for group, amount in pairs if group == wanted) for wanted in range(7)]
    assert sum_by(groups, amounts, 7).tolist() == expected
    assert float_sum_by(groups, amounts.astype(np.float64), 7).tolist() == expected


@given(PAIRS)
def test_ranges_are_laid_end_to_end(pairs: list[tuple[int, int]]):
    owners, indices = expand_ranges(*columns(pairs))

    expected = [(owner, index) for owner, (start, stop) in enumerate(pairs) for index in range(start, stop)]
    assert list(zip(owners.tolist(), indices.tolist(), strict=True)) == expected


@given(PAIRS, PAIRS)
def test_the_last_row_of_a_group_until_a_day(rows: list[tuple[int, int]], wanted: list[tuple[int, int]]):
    rows = sorted((abs(group), day) for group, day in rows)
    wanted = [(abs(group), day) for group, day in wanted]

    found = DayLookup(*columns(rows)).last_until(*columns(wanted))

    def last(group: int, until: int) -> int:
        return max((row for row, (of, day) in enumerate(rows) if of == group and day <= until), default=-1)

    assert found.tolist() == [last(*case) for case in wanted]
