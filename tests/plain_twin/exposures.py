"""A row for each planned exercise of a session that has a first log with details: what was asked, was it met.

Target S sets x R reps @ L, rest T; n working sets, m of them with load >= 0.99 L.
sets_met = working sets with reps >= R and load >= 0.99 L, over all n; met when sets_met >= S.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from functools import cached_property

from tests.plain_twin.linking import LinkedLog
from tests.plain_twin.mass import kilograms
from tests.plain_twin.record import Log, LoggedSet, PlannedExercise
from tests.plain_twin.sets_of_rows import row_tonnage_g, sets_of_rows
from tests.plain_twin.strength import e1rm_kg


@dataclass(eq=False)
class Exposure:
    row: PlannedExercise
    log: Log
    # The working sets that belong to the row, by number.
    sets: list[LoggedSet]

    @property
    def performed_on(self) -> date:
        return self.log.performed_on

    @cached_property
    def sets_met(self) -> int:
        return sum(
            logged.reps >= target_of(self.row, index) and carries(self.row, logged)
            for index, logged in enumerate(self.sets)
        )

    @property
    def met(self) -> bool:
        return self.sets_met >= self.row.sets

    @cached_property
    def reason(self) -> str | None:
        if not self.sets:
            return "not_logged"
        if self.met:
            return "rest_over" if rested_over(self.row, self.sets) else None
        if sum(carries(self.row, logged) for logged in self.sets) < min(len(self.sets), self.row.sets):
            return "load_below"
        if len(self.sets) < self.row.sets:
            return "sets_short"
        if any(is_above(self.row, logged) for logged in self.sets):
            return "other_load"
        return "reps_short"

    @property
    def best_e1rm_kg(self) -> Fraction | None:
        if self.row.measure != "reps":
            return None
        loaded = [logged for logged in self.sets if logged.load.grams is not None]
        estimates = [e1rm_kg(kilograms(logged.load.grams), logged.reps) for logged in loaded]
        return max((estimate for estimate in estimates if estimate is not None), default=None)

    @property
    def tonnage_g(self) -> int:
        return row_tonnage_g(self.row, self.sets)


def exposures(links: list[LinkedLog]) -> list[Exposure]:
    """In order of performed_on, then suggested day, then position."""
    found = []
    for link in links:
        if link.standing == "first" and link.log.has_details:
            filled = sets_of_rows(link.session, link.log)
            found += [Exposure(row, link.log, filled[row]) for row in link.session.exercises]
    return sorted(found, key=_order)


def _order(exposure: Exposure) -> tuple[date, date, int]:
    return exposure.performed_on, exposure.row.session.suggested_on, exposure.row.position


def target_of(row: PlannedExercise, index: int) -> int:
    """Each set against its own target; sets beyond the last target against the last."""
    return row.targets[min(index, row.sets - 1)]


def carries(row: PlannedExercise, logged: LoggedSet) -> bool:
    """At least 99 % of the load asked for; without a load, reps alone decide."""
    if row.load.grams is None:
        return True
    return logged.load.grams is not None and 100 * logged.load.grams >= 99 * row.load.grams


def is_above(row: PlannedExercise, logged: LoggedSet) -> bool:
    if row.load.grams is None or logged.load.grams is None:
        return False
    return 100 * logged.load.grams > 101 * row.load.grams


def rested_over(row: PlannedExercise, sets: list[LoggedSet]) -> bool:
    """In a stage that changes rest: a mean recorded rest above 1.25 of the rest asked for."""
    rests = [logged.rest_s for logged in sets if logged.rest_s is not None]
    if row.changed != "rest" or row.rest_s is None or not rests:
        return False
    return Fraction(sum(rests), len(rests)) > Fraction(125, 100) * row.rest_s
