"""The movements that the invented rosters are made of, and the loads a client climbs through."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Movement:
    name: str
    slot: str
    implement: str
    # "reps", "each", "s", "m" or "ladder" (a target for each set, as in 12-10-8).
    counted_in: str
    # Kilograms or five-pound steps; 0 for body weight, and the names of bands where there are some.
    first_load: float
    step: float
    count: int = 1
    bands: tuple[str, ...] = ()

    @property
    def has_mass(self) -> bool:
        return self.step > 0


MOVEMENTS = [
    Movement("Cup squat", "lower", "kettlebell", "reps", 12, 4),
    Movement("Floor push", "upper", "dumbbell", "reps", 8, 2, count=2),
    Movement("One-hand row", "upper", "dumbbell", "each", 12.5, 2.5),
    Movement("Low hinge", "lower", "kettlebell", "reps", 16, 4, count=2),
    Movement("High press", "upper", "dumbbell", "ladder", 6, 2),
    Movement("Back step", "lower", "dumbbell", "each", 5, 2.5, count=2),
    Movement("Side walk", "full", "kettlebell", "m", 16, 4),
    Movement("Lock-out hold", "full", "dumbbell", "s", 8, 2),
    Movement("Ground slam", "full", "slam ball", "reps", 6, 3),
    Movement("Wall push", "upper", "", "reps", 0, 0),
    Movement("Front plank", "full", "", "s", 0, 0),
    Movement("Arm opener", "upper", "band", "reps", 0, 0, bands=("green", "blue", "black")),
]
BESIDE_THE_PLAN = [
    Movement("Bag lift", "extra", "bag", "reps", 10, 5),
    Movement("Stair climb", "extra", "", "reps", 0, 0),
]


@dataclass
class Climb:
    """How far a client has come in one movement."""

    movement: Movement
    unit: str
    count: int
    is_each_side: bool
    steps: int = 0

    def load(self, more_steps: int = 0) -> str:
        """As written in a file, in the client's unit."""
        if not self.movement.has_mass:
            return f"band {self._band(more_steps)}" if self.movement.bands else "bw"
        steps = max(self.steps + more_steps, -1)
        if self.unit == "lb":
            return f"{round(self.movement.first_load * 2.2 / 5) * 5 + 5 * steps:g}"
        return f"{self.movement.first_load + self.movement.step * steps:g}"

    def _band(self, more_steps: int) -> str:
        last = len(self.movement.bands) - 1
        return self.movement.bands[min(max(self.steps + more_steps, 0), last)]


def start_climb(movement: Movement, unit: str) -> Climb:
    return Climb(movement, unit, movement.count, movement.counted_in == "each")


def times(load: str, factor: float) -> str:
    return f"{float(load) * factor:g}" if load[:1].isdigit() else load
