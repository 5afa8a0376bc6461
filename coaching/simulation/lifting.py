"""The sets of one exercise on one day."""

from __future__ import annotations

import random
from dataclasses import dataclass

from coaching.simulation.person import Person
from coaching.simulation.plan import Ask
from coaching.simulation.progressions import SECONDS_PER_METRE, SECONDS_PER_REP
from coaching.simulation.script import Mood

WARM_UP_REPS = 6


@dataclass(frozen=True)
class DoneSet:
    """One set as somebody did it."""

    reps: int
    load: float | str
    rest_s: int | None
    is_warm_up: bool = False


def sets_done(ask: Ask, mood: Mood, person: Person, dice: random.Random) -> list[DoneSet]:
    """What came of the ask; nothing at all if it was left out."""
    pairs = _reps_and_loads(ask, mood, dice)
    working = [DoneSet(reps, load, _rest(ask, person, dice)) for reps, load in pairs]
    return _warm_up(ask, person) + working if working else []


def _reps_and_loads(ask: Ask, mood: Mood, dice: random.Random) -> list[tuple[int, float | str]]:
    met: list[tuple[int, float | str]] = [(target, ask.load) for target in ask.targets]
    last_reps = met[-1][0]
    match mood:
        case Mood.MET if ask.movement.measure or dice.random() > 0.08:
            return met
        case Mood.MET:
            return [*met[:-1], (last_reps + 1, ask.load)]
        case Mood.EASY:
            return [*met[:-1], (last_reps + dice.choice((2, 3, 3, 4)), ask.load)]
        case Mood.REPS_SHORT:
            return _tiring(met, dice)
        case Mood.SETS_SHORT:
            return met[:-1]
        case Mood.LOAD_BELOW:
            half = (len(met) + 1) // 2
            return [*met[:half], *((reps, ask.lighter_load) for reps, _ in met[half:])]
        case Mood.OLD_LOAD:
            return [(reps, ask.lighter_load) for reps, _ in met]
        case Mood.OTHER_LOAD:
            return [(max(1, reps - dice.choice((2, 3))), ask.heavier_load) for reps, _ in met]
        case Mood.SKIPPED:
            return []


def _tiring(met: list[tuple[int, float | str]], dice: random.Random) -> list[tuple[int, float | str]]:
    """The last sets fall short, the last of all by most: 8, 8, 7, 5."""
    lacking = [0] * (len(met) - 2) + [dice.choice((0, 1)), dice.choice((2, 2, 3))]
    return [(max(1, reps - lack), load) for (reps, load), lack in zip(met, lacking[-len(met) :], strict=True)]


def _rest(ask: Ask, person: Person, dice: random.Random) -> int | None:
    """Seconds as a watch tells them, in fives; most people take a little longer than asked."""
    if not person.habits.gives_rest:
        return None
    return 5 * round(ask.rest_s * dice.uniform(0.95, 1.15) / 5)


def _warm_up(ask: Ask, person: Person) -> list[DoneSet]:
    if not person.habits.logs_warm_up or not ask.movement.is_plain or ask.lane.place != 1:
        return []
    return [DoneSet(WARM_UP_REPS, ask.lighter_load, None, is_warm_up=True)]


def minutes_planned(asks: tuple[Ask, ...]) -> float:
    """Five minutes of warm-up, a minute a change of exercise, the sets, and the rests between them."""
    return 5 + (len(asks) - 1) + sum(_minutes_of(ask) for ask in asks)


def _minutes_of(ask: Ask) -> float:
    movement = ask.movement
    seconds_each = {"": SECONDS_PER_REP, "s": 1.0, "m": SECONDS_PER_METRE}[movement.measure]
    sides = 2 if movement.is_each_side else 1
    work_s = sum(ask.targets) * seconds_each * sides
    return (work_s + (len(ask.targets) - 1) * ask.rest_s) / 60
