"""What was planned and what was done."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

from tests.plain_twin.mass import Load


@dataclass(eq=False)
class PlannedExercise:
    session: PlannedSession
    position: int
    exercise: str
    count: int
    targets: tuple[int, ...]
    is_each_side: bool
    measure: str
    load: Load
    rest_s: int | None
    changed: str

    @property
    def sets(self) -> int:
        return len(self.targets)

    @property
    def stage(self) -> tuple[int, tuple[int, ...], int | None]:
        """Sets x reps x rest."""
        return self.sets, self.targets, self.rest_s

    @property
    def implements(self) -> int:
        """How many times one implement's load is moved by one rep: both hands, both sides."""
        return self.count * (2 if self.is_each_side else 1)

    @property
    def planned_tonnage_g(self) -> int:
        return sum(self.targets) * self.load.grams * self.implements if self.load.grams is not None else 0


@dataclass(eq=False)
class PlannedSession:
    client: Client
    block: Block
    week: int
    label: str
    suggested_on: date
    exercises: list[PlannedExercise] = field(default_factory=list)


@dataclass(eq=False)
class Block:
    label: str
    starts_on: date
    sessions: list[PlannedSession] = field(default_factory=list)

    @property
    def last_sunday(self) -> date:
        return self.starts_on + timedelta(days=7 * max(session.week for session in self.sessions) - 1)


@dataclass(eq=False)
class LoggedSet:
    exercise: str
    number: int
    reps: int
    load: Load
    rest_s: int | None
    is_warm_up: bool

    @property
    def is_working(self) -> bool:
        return self.reps >= 1 and not self.is_warm_up


@dataclass(eq=False)
class Log:
    filed: int
    performed_on: date
    # The folded labels of block, week and session, or None where the log names no planned session.
    names: tuple[str, int, str] | None
    minutes: Fraction | None
    effort: Fraction | None
    pain: Fraction | None
    pain_region: str
    sets: list[LoggedSet] = field(default_factory=list)

    @property
    def has_details(self) -> bool:
        return bool(self.sets)


@dataclass(frozen=True)
class CheckIns:
    """The check-in calls of a client: from which day there are any, the day set for the next, (due, held) of others."""

    begin_on: date
    set_on: date | None
    held: list[tuple[date, date]]


@dataclass(eq=False)
class Client:
    key: str
    unit: str
    joined_on: date
    sends: str
    minutes: int | None
    pauses: list[tuple[date, date]]
    blocks: list[Block] = field(default_factory=list)
    logs: list[Log] = field(default_factory=list)
    # None where the studio has none, as whenever a record was read from files.
    check_ins: CheckIns | None = None
    # Findings by day, once worked out: a replay asks for the same day again and again.
    remembered: dict[date, Any] = field(default_factory=dict)

    @property
    def sessions(self) -> list[PlannedSession]:
        return [session for block in self.blocks for session in block.sessions]

    def is_paused_on(self, day: date) -> bool:
        return any(first <= day <= last for first, last in self.pauses)


@dataclass(eq=False)
class Record:
    clients: list[Client]
    # The spelling that the studio's record of an exercise was made with, by folded name.
    exercise_names: dict[str, str]
    # Regions that the studio's record ties to an exercise; a loader makes exercises without any.
    regions_of: dict[str, list[str]] = field(default_factory=dict)


def fold(label: str) -> str:
    return label.strip().casefold()
