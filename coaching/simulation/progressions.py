"""How a block makes its weeks harder: one variable at a time, and then the next load."""

from __future__ import annotations

from dataclasses import dataclass

# A rep takes three seconds, a metre one and a half: the usual reckoning.
SECONDS_PER_REP = 3.0
SECONDS_PER_METRE = 1.5
# Holds and carries grow by five where reps grow by one.
STEP_OF_MEASURE = {"": 1, "s": 5, "m": 5}
START_OF_MEASURE = {"s": 30, "m": 20}


@dataclass(frozen=True)
class Stage:
    """One week's rule: how many sets and reps beyond the first week's, and which share of its rest."""

    more_sets: int
    more_reps: int
    rest_share: float
    changed: str


@dataclass(frozen=True)
class Shape:
    """The weeks of a block, and how a client's reps are written."""

    stages: tuple[Stage, ...]
    # Each set has a target of its own, as in 12-10-8.
    is_per_set: bool = False

    @property
    def weeks(self) -> int:
        return len(self.stages)


_FIRST = Stage(0, 0, 1, "none")
_SETS = Stage(1, 0, 1, "sets")
_REPS = Stage(1, 2, 1, "reps")
_REST = Stage(1, 2, 2 / 3, "rest")
_DELOAD = Stage(-1, 0, 1, "deload")

# 3 x 8 with 75 s, 4 x 8, 4 x 10, 4 x 10 with 50 s, then 3 x 8 at the next load.
FOUR_STAGES = Shape((_FIRST, _SETS, _REPS, _REST))
THREE_STAGES = Shape((_FIRST, _SETS, _REPS))
WITH_DELOAD = Shape((_FIRST, _SETS, _REPS, _DELOAD))
PER_SET = Shape((_FIRST, _SETS, _REPS, _REST), is_per_set=True)


def rest_of(stage: Stage, rest_s: int) -> int:
    """The stage's rest in whole steps of five seconds."""
    return 5 * round(rest_s * stage.rest_share / 5)


def targets_of(stage: Stage, *, sets: int, reps: int, measure: str, is_per_set: bool) -> tuple[int, ...]:
    """What each set of the week asks for, from the sets and reps of the round's first week."""
    amount = START_OF_MEASURE.get(measure, 0) + (reps - 8) * STEP_OF_MEASURE[measure] if measure else reps
    amount += stage.more_reps * STEP_OF_MEASURE[measure]
    count = max(1, sets + stage.more_sets)
    if not is_per_set or measure:
        return (amount,) * count
    return tuple(max(2, amount + 2 - 2 * min(number, 2)) for number in range(count))
