"""What people own: implements and the loads each can be made to weigh, as the clients file writes them."""

from __future__ import annotations

from dataclasses import dataclass

KILOGRAMS_PER_POUND = 0.45359237


@dataclass(frozen=True)
class Kit:
    """Implements with their loads, ascending, in the unit of the person who owns them."""

    loads: dict[str, tuple[float, ...]]
    text: str
    unit: str = "kg"

    def position_near(self, implement: str, kilograms: float) -> int:
        """The place in the row of loads of the heaviest one that is not above `kilograms`, else of the lightest."""
        amount = kilograms / KILOGRAMS_PER_POUND if self.unit == "lb" else kilograms
        return max(0, sum(load <= amount for load in self.loads[implement]) - 1)


def read_kit(text: str, unit: str = "kg") -> Kit:
    """A kit from its text, such as "dumbbell: 2-20/2; kettlebell: 8, 12, 16"."""
    parts = (part.split(":") for part in text.split(";") if part.strip())
    return Kit({name.strip(): _loads(loads) for name, loads in parts}, text, unit)


def _loads(text: str) -> tuple[float, ...]:
    if "/" not in text:
        return tuple(float(load) for load in text.split(","))
    span, step = text.split("/")
    first, last = (float(end) for end in span.split("-"))
    count = round((last - first) / float(step)) + 1
    return tuple(first + place * float(step) for place in range(count))


HOME_KITS = (
    "dumbbell: 2-20/2",
    "dumbbell: 2-24/2; kettlebell: 8, 12, 16, 20, 24",
    "kettlebell: 8, 12, 16, 20, 24, 28; slam ball: 3, 5, 8, 10",
    "dumbbell: 2.5-25/2.5; sandbag: 10-40/5",
    "dumbbell: 1, 2, 3, 4, 5, 6, 8, 10, 12.5, 15, 17.5, 20; slam ball: 3, 6, 9",
    "dumbbell: 2-30/2; barbell: 20-100/2.5; kettlebell: 8-32/4",
    "kettlebell: 6, 8, 10, 12, 16, 20, 24, 28; dumbbell: 2-12/1",
)
POUND_KIT = "dumbbell: 5-50/5; kettlebell: 18, 26, 35, 44, 53"
