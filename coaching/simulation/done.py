"""A log as a client sends it, and what of the past bounds the chances of today."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from coaching.simulation.lifting import DoneSet
from coaching.simulation.plan import Ask, Planned

# Exposures of an exercise that must have gone well before chance may spoil one again.
EXPOSURES_BETWEEN_MISHAPS = 4
SESSIONS_BETWEEN_CUTS = 5


@dataclass(frozen=True)
class DoneExercise:
    name: str
    sets: tuple[DoneSet, ...]


@dataclass(frozen=True)
class Done:
    """One log; without exercises it says "trained", and no more."""

    performed_on: date
    received_on: date
    # The session that it names, or none.
    planned: Planned | None
    exercises: tuple[DoneExercise, ...]
    minutes: int | None = None
    effort: float | None = None
    pain: int | None = None
    region: str = ""
    remark: str = ""
    submission: str = ""


@dataclass
class Memory:
    """Kept from session to session, so that no mishap comes twice in a short time."""

    missed_running: int = 0
    sessions_since_cut: int = SESSIONS_BETWEEN_CUTS
    since_mishap: dict[str, int] = field(default_factory=dict)
    short_at: set[tuple[object, ...]] = field(default_factory=set)
    had_pain: bool = False
    was_told: bool = False

    def may_spoil(self, ask: Ask) -> bool:
        """Not soon after another mishap, and never twice at one stage: that would be a finding."""
        since = self.since_mishap.get(ask.movement.name, EXPOSURES_BETWEEN_MISHAPS)
        return since >= EXPOSURES_BETWEEN_MISHAPS and _stage(ask) not in self.short_at

    def spoil(self, ask: Ask) -> None:
        self.since_mishap[ask.movement.name] = 0
        self.short_at.add(_stage(ask))

    def go_on(self, ask: Ask) -> None:
        name = ask.movement.name
        self.since_mishap[name] = self.since_mishap.get(name, EXPOSURES_BETWEEN_MISHAPS) + 1


def _stage(ask: Ask) -> tuple[object, ...]:
    return ask.movement.name, ask.load, ask.targets, ask.rest_s
