"""Ids as spans of neighbours: what one load makes is numbered in a row, so that thousands take little room.

>>> spans_of([7, 1, 2, 3, 9, 8])
[(1, 3), (7, 9)]
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

Span = tuple[int, int]


def spans_of(ids: Iterable[int]) -> list[Span]:
    spans: list[Span] = []
    for one in sorted(set(ids)):
        if spans and one == spans[-1][1] + 1:
            spans[-1] = spans[-1][0], one
        else:
            spans.append((one, one))
    return spans


def ids_in(spans: Iterable[Span]) -> Iterator[int]:
    for first, last in spans:
        yield from range(first, last + 1)


def are_in(ids: Iterable[int], spans: Iterable[Span]) -> bool:
    """Whether any of the ids is in any of the spans."""
    within = set(ids_in(spans))
    return any(one in within for one in ids)
