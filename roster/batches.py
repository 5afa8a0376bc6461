"""Long lists in parts that fit into one query of any database."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import islice
from typing import TypeVar

Item = TypeVar("Item")
MOST_IN_A_QUERY = 900


def in_batches(items: Iterable[Item], size: int = MOST_IN_A_QUERY) -> Iterator[list[Item]]:
    rest = iter(items)
    while batch := list(islice(rest, size)):
        yield batch
