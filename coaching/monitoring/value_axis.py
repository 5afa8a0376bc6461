"""The axis of values of a staircase: ticks at the values that occur, as far as they don't touch each other."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

# Tick labels closer together than this share of the axis would touch.
CLOSEST_TICKS = 0.2
# Above the highest and below the lowest value.
ROOM_BESIDE = 0.2


class ValueAxis(NamedTuple):
    low: float
    high: float
    ticks: list[float]

    @classmethod
    def over(cls, values: Iterable[float]) -> ValueAxis:
        """Of at least one value; a single one gets room too.

        >>> ValueAxis.over([16, 18, 20, 16])
        ValueAxis(low=15.2, high=20.8, ticks=[16, 18, 20])
        """
        in_order = sorted(set(values))
        low, high = in_order[0], in_order[-1]
        room = (high - low) or max(1.0, high / 4)
        ticks: list[float] = []
        for value in in_order:
            if not ticks or value - ticks[-1] >= CLOSEST_TICKS * room:
                ticks.append(value)
        return cls(low - ROOM_BESIDE * room, high + ROOM_BESIDE * room, ticks)
