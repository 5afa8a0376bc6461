"""One invented client: who they are, what they own, on which days they train, and their habits."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from coaching.simulation.days import Span, days_later, monday_of
from coaching.simulation.kits import Kit
from coaching.simulation.progressions import FOUR_STAGES, Shape
from coaching.simulation.shelf import Movement


class Lane(NamedTuple):
    """A place in a client's week that one exercise after another fills: which session, which place in it."""

    session: int
    place: int


@dataclass(frozen=True)
class Habits:
    """How somebody trains and tells of it; shares are from 0 to 1."""

    attendance: float = 0.95
    # Minutes taken for a minute planned.
    pace: float = 1.0
    gives_effort: bool = True
    gives_pain: bool = True
    gives_rest: bool = True
    gives_minutes: bool = True
    logs_warm_up: bool = False
    # Says in the log which planned session it was.
    names_session: bool = True
    # Trains and sends before the coach's morning.
    is_early: bool = False
    remark_share: float = 0.08
    told_share: float = 0.01
    later_share: float = 0.01
    extra_share: float = 0.0
    second_log_share: float = 0.0


@dataclass(frozen=True)
class Person:
    """A client as drawn for one roster."""

    seed: int
    number: int
    key: str
    name: str
    email: str
    time_zone: str
    sends: str
    goal: str
    kit: Kit
    # Share by which they are stronger than the usual beginner.
    strength: float
    # Growth of strength a week.
    growth: float
    training_weekdays: tuple[int, ...]
    session_names: tuple[str, ...]
    lanes: dict[Lane, Movement]
    shape: Shape
    first_sets: int
    first_reps: int
    rest_s: int
    minutes: int | None
    joined_on: date
    first_block_on: date
    habits: Habits
    pauses: tuple[Span, ...] = ()
    # Mondays of weeks for which no plan was written.
    idle_weeks: frozenset[date] = frozenset()

    @property
    def is_usual(self) -> bool:
        """Sends each session, and has blocks of the usual stages: somebody of whom a situation can be told."""
        return self.sends == "each" and self.shape is FOUR_STAGES

    def block_starts(self, last: date) -> Iterator[date]:
        """The Mondays on which blocks start, up to `last`."""
        start = self.first_block_on
        while start <= last:
            if start in self.idle_weeks:
                start = days_later(start, 7)
                continue
            yield start
            start = days_later(start, 7 * self.shape.weeks)

    def block_start_before(self, day: date) -> date:
        """The start of the block that was last to begin by `day`."""
        return list(self.block_starts(day))[-1]

    def training_days(self, first: date, last: date) -> list[date]:
        """Days in a span for which the plan has a session, ascending."""
        mondays = (days_later(start, 7 * week) for start in self.block_starts(last) for week in range(self.shape.weeks))
        days = (days_later(monday, weekday) for monday in mondays for weekday in self.training_weekdays)
        return [day for day in days if first <= day <= last]

    def lane_days(self, lane: Lane, first: date, last: date) -> list[date]:
        """Days in a span for which the plan has the lane's exercise."""
        weekday = self.training_weekdays[lane.session]
        return [day for day in self.training_days(first, last) if day.weekday() == weekday]

    def last_training_days(self, before: date, count: int) -> list[date]:
        return self.training_days(self.first_block_on, days_later(before, -1))[-count:]

    def last_lane_days(self, lane: Lane, before: date, count: int) -> list[date]:
        return self.lane_days(lane, self.first_block_on, days_later(before, -1))[-count:]

    def next_training_days(self, day: date, count: int) -> list[date]:
        """The first sessions on or after `day`."""
        return self.training_days(day, days_later(day, 60))[:count]

    def next_lane_days(self, lane: Lane, day: date, count: int) -> list[date]:
        return self.lane_days(lane, day, days_later(day, 60))[:count]

    def is_paused(self, day: date) -> bool:
        return any(pause.holds(day) for pause in self.pauses)

    def plain_lanes(self) -> list[Lane]:
        return [lane for lane, movement in self.lanes.items() if movement.is_plain]

    def week_of_block(self, day: date) -> int:
        """From 1; 0 before the first block."""
        if day < self.first_block_on:
            return 0
        return (monday_of(day) - self.block_start_before(day)).days // 7 + 1
