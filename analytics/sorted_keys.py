"""Joins and groups on integer keys, as sorted look-ups: one pass for one client or ten thousand."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]
Floats = NDArray[np.float64]
ABSENT = -1


# Fewer rows than this are sorted column by column: to pack them into one number would cost more.
_FEWEST_TO_PACK = 2_000
# Ids that lie no further apart than so many times their number are looked up in a table.
_TABLE_SPREAD = 16
_MOST_PACKED = 2**62


def positions_of(wanted: Ints, ids: Ints) -> Ints:
    """Where each wanted id stands in `ids` (unique, any order); -1 where it does not.

    >>> positions_of(np.array([7, 5, 9]), np.array([5, 7])).tolist()
    [1, 0, -1]
    """
    if ids.size == 0:
        return np.full(wanted.shape, ABSENT, dtype=np.int64)
    if wanted.size + ids.size >= _FEWEST_TO_PACK:
        first, last = int(ids.min()), int(ids.max())
        if last - first <= _TABLE_SPREAD * (wanted.size + ids.size):
            return _positions_by_table(wanted, ids, first, last)
    order = np.argsort(ids, kind="stable")
    found = np.searchsorted(ids, wanted, sorter=order)
    candidate = order[np.minimum(found, ids.size - 1)]
    return np.where(ids[candidate] == wanted, candidate, ABSENT)


def _positions_by_table(wanted: Ints, ids: Ints, first: int, last: int) -> Ints:
    """The same where ids lie close together; the table's last entry is for what is outside of them."""
    table = np.full(last - first + 2, ABSENT, dtype=np.int64)
    table[ids - first] = np.arange(ids.size, dtype=np.int64)
    offset = wanted - first
    if wanted.size and (wanted.min() < first or wanted.max() > last):
        offset[(offset < 0) | (offset > last - first)] = last - first + 1
    return table[offset]


def order_by(*columns: Ints) -> Ints:
    """The rows in order of the columns, the first counting most; equal rows stay as they are.

    Many rows are packed into one number each, with the row's own number as its last digits, and sorted as numbers.

    >>> order_by(np.array([4, 1, 4]), np.array([2, 7, 0])).tolist()
    [1, 2, 0]
    """
    size = columns[0].size
    packed = pack(*columns) if size >= _FEWEST_TO_PACK else None
    if packed is None or packed[1] > _MOST_PACKED // size:
        return np.lexsort(columns[::-1])
    keys, _ = packed
    if bool((keys[1:] >= keys[:-1]).all()):
        return np.arange(size, dtype=np.int64)
    keys *= size
    keys += np.arange(size, dtype=np.int64)
    keys.sort()
    return keys % size


def pack(*columns: Ints) -> tuple[Ints, int] | None:
    """One number from 0 for each combination, in the order of the columns, and their span; None if too wide for one.

    >>> pack(np.array([4, 5]), np.array([2, 1]))
    (array([1, 2]), 4)
    """
    span = 1
    keys = np.zeros(columns[0].size, dtype=np.int64)
    for column in columns:
        first, last = int(column.min()), int(column.max())
        width = last - first + 1
        if span > _MOST_PACKED // width:
            return None
        keys *= width
        keys += column
        keys -= first
        span *= width
    return keys, span


def dense_codes(*columns: Ints) -> tuple[Ints, int]:
    """One code from 0 for each distinct combination, in sorted order; and how many there are.

    >>> dense_codes(np.array([4, 4, 1]), np.array([0, 2, 2]))[0].tolist()
    [1, 2, 0]
    """
    if columns[0].size == 0:
        return np.zeros(0, dtype=np.int64), 0
    order = order_by(*columns)
    changes = np.zeros(order.size, dtype=np.bool_)
    for column in columns:
        ordered = column[order]
        changes[1:] |= ordered[1:] != ordered[:-1]
    codes = np.empty(order.size, dtype=np.int64)
    codes[order] = np.cumsum(changes)
    return codes, int(codes[order[-1]]) + 1


def run_starts(*ordered: Ints) -> Bools:
    """True where a combination differs from the row before; the first row always does."""
    starts = np.ones(ordered[0].size, dtype=np.bool_)
    if starts.size:
        starts[1:] = False
        for column in ordered:
            starts[1:] |= column[1:] != column[:-1]
    return starts


def rank_in_run(starts: Bools) -> Ints:
    """The place of each row in its run, from 0.

    >>> rank_in_run(np.array([True, False, True])).tolist()
    [0, 1, 0]
    """
    rows = np.arange(starts.size, dtype=np.int64)
    return rows - np.maximum.accumulate(np.where(starts, rows, 0)) if starts.size else rows


def sum_by(groups: Ints, amounts: NDArray[np.generic], group_count: int) -> Ints:
    """Exact integer sums a group; `groups` may be in any order and hold -1 for "none"."""
    sums = np.zeros(group_count, dtype=np.int64)
    inside = groups >= 0
    if inside.all():
        np.add.at(sums, groups, amounts.astype(np.int64, copy=False))
    else:
        np.add.at(sums, groups[inside], amounts[inside].astype(np.int64, copy=False))
    return sums


def float_sum_by(groups: Ints, amounts: Floats, group_count: int) -> Floats:
    """Float sums a group, added in the order of the rows."""
    inside = groups >= 0
    return np.bincount(groups[inside], weights=amounts[inside], minlength=group_count).astype(np.float64)


def expand_ranges(starts: Ints, stops: Ints) -> tuple[Ints, Ints]:
    """Every index of every half-open range, with the number of the range it is from.

    >>> [column.tolist() for column in expand_ranges(np.array([0, 5]), np.array([2, 6]))]
    [[0, 0, 1], [0, 1, 5]]
    """
    lengths = np.maximum(stops - starts, 0)
    owners = np.repeat(np.arange(starts.size, dtype=np.int64), lengths)
    offsets = np.arange(owners.size, dtype=np.int64) - np.repeat(np.cumsum(lengths) - lengths, lengths)
    return owners, np.repeat(starts, lengths) + offsets


class DayLookup:
    """Rows sorted by (group, day), asked for the last row of a group on or before a day."""

    # Wider than any two days apart that a record can hold (ten thousand years).
    SPAN = 4_000_000
    ORIGIN = 1_000_000

    def __init__(self, groups: Ints, days: Ints) -> None:
        self.keys = self.key(groups, days)

    def key(self, groups: Ints, days: Ints) -> Ints:
        return groups * self.SPAN + days + self.ORIGIN

    def last_until(self, groups: Ints, days: Ints) -> Ints:
        """The index of the last row of `groups` with a day <= `days`; -1 where there is none."""
        index = np.searchsorted(self.keys, self.key(groups, days), side="right") - 1
        if self.keys.size == 0:
            return np.full(groups.shape, ABSENT, dtype=np.int64)
        is_same_group = self.keys[np.maximum(index, 0)] // self.SPAN == groups
        return np.where((index >= 0) & is_same_group, index, ABSENT)
