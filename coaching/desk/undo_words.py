"""What undoing a load would do, in sentences."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from coaching.loads.in_the_way import InTheWay
from coaching.loads.models import Load
from coaching.loads.undoing import UndoPlan
from coaching.monitoring.plain_words import counted
from roster.people.models import Coach
from roster.watching import Thing

REASONS_SHOWN = 20


@dataclass(frozen=True)
class ShownUndo:
    in_the_way: InTheWay
    later_loads: list[Load]
    later_of_others: int
    reasons: list[str]
    more_reasons: int
    lines: list[str]


def build_undo(plan: UndoPlan, coach: Coach) -> ShownUndo:
    later = plan.in_the_way.later_loads
    shown = list(Load.objects.visible_to(coach).filter(pk__in=[load.pk for load in later]).order_by("pk"))
    sentences = plan.in_the_way.sentences
    lines = [*_going(plan), *_going_back(plan), *_staying(plan)]
    more = max(len(sentences) - REASONS_SHOWN, 0)
    return ShownUndo(plan.in_the_way, shown, len(later) - len(shown), sentences[:REASONS_SHOWN], more, lines)


def _going(plan: UndoPlan) -> Iterator[str]:
    if logs := plan.going[Thing.LOG]:
        yield f"{counted(logs, 'session log')} will be withdrawn: kept as sent, and out of every figure"
    for thing, noun in ((Thing.BLOCK, "block"), (Thing.CLIENT, "client"), (Thing.EXERCISE, "exercise")):
        if number := plan.going[thing]:
            yield f"{counted(number, noun)} that this load made will be gone"


def _going_back(plan: UndoPlan) -> Iterator[str]:
    if logs := plan.going_back[Thing.LOG]:
        yield f"{counted(logs, 'session log')} will say again what was said before this load"
    for thing, noun in ((Thing.BLOCK, "block"), (Thing.CLIENT, "client")):
        if number := plan.going_back[thing]:
            yield f"{counted(number, noun)} will be as before this load"


def _staying(plan: UndoPlan) -> Iterator[str]:
    if names := plan.exercises_staying:
        listed = ", ".join(f"“{name}”" for name in names)
        yield f"staying, because others use them or they were edited: {listed}"
