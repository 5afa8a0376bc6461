"""What is bound to happen to one client, day by day; all else falls by chance, within bounds that make no finding."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from enum import Enum

from coaching.simulation.days import Span
from coaching.simulation.person import Lane


class Mood(Enum):
    """How one exercise of one session turns out."""

    MET = "met"
    REPS_SHORT = "reps short"
    SETS_SHORT = "sets short"
    LOAD_BELOW = "goes lighter half way"
    OLD_LOAD = "stays at the load before the step"
    OTHER_LOAD = "takes more than asked"
    EASY = "has reps to spare"
    SKIPPED = "leaves it out"


class Step(Enum):
    """What the coach does with an exercise when a new block starts."""

    STEP = "next load"
    BRIDGE = "same load, more reps"
    REPEAT = "same round again"
    FLAT = "same week four times"


@dataclass(frozen=True)
class Truth:
    """What was made to happen to a client, and the finding that should hold because of it."""

    situation: str
    what: str
    kind: str
    urgency: str
    holds_from: date
    # The last day; None: beyond what the simulation can say.
    holds_until: date | None
    subject: str = ""
    # Where the subject is an exercise: the lane that it fills on the first day.
    lane: Lane | None = None


@dataclass
class Script:
    """Everything that situations have laid down for one client."""

    # Sessions suggested in these spans are not attended.
    away: list[Span] = field(default_factory=list)
    # Spans in which nothing falls by chance.
    tidy: list[Span] = field(default_factory=list)
    pain: dict[date, int] = field(default_factory=dict)
    pain_region: dict[date, str] = field(default_factory=dict)
    moods: dict[tuple[Lane, date], Mood] = field(default_factory=dict)
    # Sessions that end before their last exercise, and sessions that take far too long.
    cut: set[date] = field(default_factory=set)
    overlong: set[date] = field(default_factory=set)
    # What happens to a lane when the block of that Monday starts.
    steps: dict[tuple[Lane, date], Step] = field(default_factory=dict)
    # With the block of that Monday no exercise gives way to another.
    keeps_exercises_on: date | None = None
    # The coach is late with the block of that Monday: the day from which it is there.
    drafted_on: dict[date, date] = field(default_factory=dict)
    truths: list[Truth] = field(default_factory=list)

    def is_away(self, day: date) -> bool:
        return any(span.holds(day) for span in self.away)

    def is_tidy(self, day: date) -> bool:
        return any(span.holds(day) for span in self.tidy)
