"""How a client goes through a plan: which sessions they attend, and how each exercise turns out.

What falls by chance stays within the bounds of a good week: a session missed, an exercise short, never the same
thing twice running. Findings come from situations alone.
"""

from __future__ import annotations

import random
import uuid
from datetime import date

from coaching.simulation import remarks
from coaching.simulation.attendance import attends, performed_on, received_on
from coaching.simulation.days import days_later, dice_for
from coaching.simulation.done import SESSIONS_BETWEEN_CUTS, Done, DoneExercise, Memory
from coaching.simulation.lifting import DoneSet, sets_done
from coaching.simulation.person import Person
from coaching.simulation.plan import Ask, Planned
from coaching.simulation.script import Mood, Script
from coaching.simulation.shelf import BODY_WEIGHT, EXTRA
from coaching.simulation.telling import effort_of, minutes_of, pain_of, remark_of

SHARE_OF_CUTS = 0.03
SHARE_OF_MISHAPS = 0.05
MISHAPS = (Mood.REPS_SHORT, Mood.REPS_SHORT, Mood.SETS_SHORT, Mood.OTHER_LOAD, Mood.SKIPPED)
MINUTES_OF_AN_EXTRA_SESSION = 20


def train(person: Person, script: Script, plan: list[Planned]) -> list[Done]:
    """Every log that will ever come of the plan, whenever it is received."""
    memory = Memory()
    taken = {planned.day for planned in plan}
    logs: list[Done] = []
    for planned in plan:
        dice = dice_for(person.seed, person.number, planned.day)
        if not attends(person, script, planned.day, memory.missed_running, dice):
            memory.missed_running += 1
            continue
        memory.missed_running = 0
        performed = performed_on(person, script, planned.day, taken, dice)
        logs.append(_session(person, script, planned, performed, memory, dice))
        if not script.is_tidy(planned.day) and performed == planned.day:
            logs += _beside_the_plan(person, planned, taken, dice)
    return logs


def _session(
    person: Person, script: Script, planned: Planned, performed: date, memory: Memory, dice: random.Random
) -> Done:
    received = received_on(person, planned, performed)
    is_told = not script.is_tidy(planned.day) and not memory.was_told and dice.random() < person.habits.told_share
    memory.was_told = is_told
    if is_told:
        return Done(performed, received, planned, (), minutes=person.minutes)
    is_cut = _is_cut(script, planned, memory, dice)
    asks = planned.asks[:-1] if is_cut else planned.asks
    moods = [_mood(ask, script, planned.day, memory, dice) for ask in asks]
    return Done(
        performed,
        received,
        planned,
        _exercises(asks, moods, person, dice),
        minutes_of(person, script, planned, dice, is_cut=is_cut),
        effort_of(person, planned, moods, dice),
        pain_of(person, script, planned.day, memory, dice),
        script.pain_region.get(planned.day, ""),
        remark_of(person, script, planned.day, moods, dice, is_cut=is_cut),
    )


def _is_cut(script: Script, planned: Planned, memory: Memory, dice: random.Random) -> bool:
    by_chance = memory.sessions_since_cut >= SESSIONS_BETWEEN_CUTS and dice.random() < SHARE_OF_CUTS
    is_cut = planned.day in script.cut or (by_chance and not script.is_tidy(planned.day))
    memory.sessions_since_cut = 0 if is_cut else memory.sessions_since_cut + 1
    return is_cut


def _mood(ask: Ask, script: Script, day: date, memory: Memory, dice: random.Random) -> Mood:
    """What the script says; else met, but for a mishap now and then."""
    memory.go_on(ask)
    if (ask.lane, day) in script.moods:
        return script.moods[ask.lane, day]
    if dice.random() > SHARE_OF_MISHAPS or script.is_tidy(day) or not memory.may_spoil(ask):
        return Mood.MET
    memory.spoil(ask)
    return dice.choice(MISHAPS)


def _exercises(
    asks: tuple[Ask, ...], moods: list[Mood], person: Person, dice: random.Random
) -> tuple[DoneExercise, ...]:
    done = (
        DoneExercise(ask.movement.name, tuple(sets_done(ask, mood, person, dice)))
        for ask, mood in zip(asks, moods, strict=True)
    )
    return tuple(exercise for exercise in done if exercise.sets)


def _beside_the_plan(person: Person, planned: Planned, taken: set[date], dice: random.Random) -> list[Done]:
    """On the day after a session: one that nobody planned, or a second log of the session."""
    day = days_later(planned.day, 1)
    received = received_on(person, planned, day)
    if day in taken:
        return []
    if dice.random() < person.habits.extra_share:
        return [_extra_session(day, received, dice)]
    if dice.random() < person.habits.second_log_share:
        return [_second_log(planned, day, received, dice)]
    return []


def _extra_session(day: date, received: date, dice: random.Random) -> Done:
    movement = dice.choice([movement for movement in EXTRA if not movement.implement])
    sets = (DoneSet(dice.choice((20, 30, 40)), BODY_WEIGHT, None),) * 3
    exercise = DoneExercise(movement.name, sets)
    remark = dice.choice(remarks.EXTRA)
    return Done(day, received, None, (exercise,), MINUTES_OF_AN_EXTRA_SESSION, 5.0, remark=remark)


def _second_log(planned: Planned, day: date, received: date, dice: random.Random) -> Done:
    """One more round of the session's first exercise, under a submission of its own."""
    ask = planned.asks[0]
    sets = (DoneSet(ask.targets[0], ask.load, None), DoneSet(ask.targets[-1], ask.load, None))
    submission = str(uuid.UUID(int=dice.getrandbits(128), version=4))
    exercise = DoneExercise(ask.movement.name, sets)
    return Done(day, received, planned, (exercise,), 10, remark=dice.choice(remarks.SECOND), submission=submission)
