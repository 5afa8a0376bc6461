"""Draws the people of a roster: each from dice of their own."""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from coaching.simulation.casting import Part
from coaching.simulation.days import FRI, MON, SAT, THU, TUE, WED, Span, days_later, dice_for, monday_of
from coaching.simulation.kits import HOME_KITS, POUND_KIT, Kit, read_kit
from coaching.simulation.lifting import minutes_planned
from coaching.simulation.names import FAMILY_NAMES, GIVEN_NAMES, TIME_ZONES
from coaching.simulation.person import Habits, Lane, Person
from coaching.simulation.plan import planned_sessions
from coaching.simulation.progressions import FOUR_STAGES, PER_SET, THREE_STAGES, WITH_DELOAD
from coaching.simulation.remarks import GOALS
from coaching.simulation.script import Script
from coaching.simulation.shelf import PLACES, Movement

SHAPES = {"four_stages": FOUR_STAGES, "three_stages": THREE_STAGES, "with_deload": WITH_DELOAD, "per_set": PER_SET}
WEEKDAYS = ((MON, WED, FRI), (TUE, THU, SAT), (MON, THU, SAT), (MON, WED, SAT))
SESSION_NAMES = (("A", "B", "C", "D"), ("one", "two", "three", "four"), ("anchor", "birch", "cedar", "dune"))
FEWEST_BLOCKS = 4
SHARE_WITHOUT_KIT = 0.4


def names_for(clients: int, dice: random.Random) -> list[str]:
    """Different names, as many as clients."""
    pairs = [f"{given} {family}" for given in GIVEN_NAMES for family in FAMILY_NAMES]
    if clients > len(pairs):
        raise ValueError(f"There are names for {len(pairs)} clients at most.")
    return dice.sample(pairs, clients)


def draw_person(seed: int, number: int, name: str, part: Part, staged_for: date, weeks: int) -> Person:
    """One client for one part."""
    dice = dice_for(seed, number, "person")
    special = part.special
    shape = SHAPES[special.get("shape", "four_stages")]
    weekdays = special.get("weekdays") or dice.choice(WEEKDAYS)
    kit = _kit(special, dice)
    time_zone = special.get("time_zone") or dice.choice(TIME_ZONES)
    first_block_on, idle_weeks = _calendar(part, shape.weeks, staged_for, weeks, dice)
    key = name.casefold().replace(" ", ".")
    person = Person(
        seed=seed, number=number, key=key, name=name, email=f"{key}@example.org", time_zone=time_zone,
        sends=special.get("sends", "each"),
        goal=dice.choice(GOALS),
        kit=kit,
        strength=dice.uniform(0.8, 1.5),
        growth=dice.uniform(0.004, 0.009),
        training_weekdays=weekdays,
        session_names=dice.choice(SESSION_NAMES)[: len(weekdays)],
        lanes=_lanes(kit, len(weekdays), dice),
        shape=shape,
        first_sets=3, first_reps=dice.choice((6, 8, 8, 8, 10)), rest_s=dice.choice((60, 75, 75, 90)), minutes=None,
        joined_on=days_later(first_block_on, -dice.choice((0, 2, 3, 5))), first_block_on=first_block_on,
        habits=_habits(part, time_zone, dice),
        pauses=_pauses(special, staged_for), idle_weeks=idle_weeks,
    )
    return _with_minutes(person, dice)


def _kit(special: Mapping[str, Any], dice: random.Random) -> Kit:
    if not special.get("has_kit", True):
        return read_kit("")
    if special.get("unit") == "lb":
        return read_kit(POUND_KIT, "lb")
    return read_kit(dice.choice(HOME_KITS))


def _pauses(special: Mapping[str, Any], staged_for: date) -> tuple[Span, ...]:
    if "pause" not in special:
        return ()
    first, last = special["pause"]
    return (Span(days_later(staged_for, first), days_later(staged_for, last)),)


def _calendar(
    part: Part, block_weeks: int, staged_for: date, weeks: int, dice: random.Random
) -> tuple[date, frozenset[date]]:
    """When the first block started, so that the present one is in the week that the part asks for."""
    this_monday = monday_of(staged_for)
    if part.week_of_block:
        week = part.week_of_block(staged_for)
    else:
        week = dice.choice((2, 3)) if block_weeks == 4 and "shape" not in part.special else 2
    present = days_later(this_monday, -7 * (week - 1))
    # After the last week of a plan that was not followed by another: this one, or the next.
    idle = frozenset([this_monday]) if week > block_weeks else frozenset()
    if part.is_new:
        return present, idle
    room = (present - days_later(this_monday, -7 * (weeks - 1))).days // (7 * block_weeks)
    blocks_before = room if dice.random() < 0.65 else dice.randint(min(FEWEST_BLOCKS, room), room)
    return days_later(present, -7 * block_weeks * blocks_before), idle


def _lanes(kit: Kit, sessions: int, dice: random.Random) -> dict[Lane, Movement]:
    """An upper-body, a lower-body and a full-body exercise for each session, none of them twice."""
    lanes: dict[Lane, Movement] = {}
    for place, movements in enumerate(PLACES):
        chosen = _some(movements, kit, sessions, dice)
        lanes |= {Lane(session, place): movement for session, movement in enumerate(chosen)}
    return dict(sorted(lanes.items()))


def _some(movements: tuple[Movement, ...], kit: Kit, count: int, dice: random.Random) -> list[Movement]:
    """With the kit if there is one, now and then with bands or nothing; harder neighbours come in their time."""
    neighbours = {movement.harder for movement in movements}
    own = [movement for movement in movements if movement.has_mass and movement.implement in kit.loads]
    without = [movement for movement in movements if not movement.has_mass and movement.name not in neighbours]
    dice.shuffle(own)
    dice.shuffle(without)
    count_without = max(count - len(own), int(dice.random() < SHARE_WITHOUT_KIT))
    chosen = without[:count_without] + own[: count - count_without]
    dice.shuffle(chosen)
    return chosen


def _habits(part: Part, time_zone: str, dice: random.Random) -> Habits:
    drawn = {
        "attendance": dice.uniform(0.9, 0.99),
        "pace": dice.uniform(0.92, 1.1),
        "gives_effort": dice.random() < 0.85,
        "gives_pain": dice.random() < 0.7,
        "gives_rest": dice.random() < 0.75,
        "logs_warm_up": dice.random() < 0.3,
        "is_early": dice.random() < 0.25,
        "remark_share": dice.uniform(0.03, 0.15),
    }
    special = {name: value for name, value in part.special.items() if name in Habits.__dataclass_fields__}
    # Where the day begins hours later than at the studio, today's session may lie in tomorrow. And whoever has a
    # situation now sends in the evening, so that today's session cannot clear it.
    sends_next_day = part.now is not None or time_zone.startswith("America/")
    return Habits(**drawn | special | ({"is_early": False} if sends_next_day else {}))


def _with_minutes(person: Person, dice: random.Random) -> Person:
    """Minutes that the plan fits into; of some who train in an unusual way they are not known."""
    sessions = planned_sessions(person, Script(), days_later(person.first_block_on, 7 * person.shape.weeks))
    longest = max(minutes_planned(session.asks) for session in sessions)
    minutes = 5 * -(-int(longest * person.habits.pace + 1) // 5)
    is_known = person.is_usual or dice.random() < 0.5
    return replace(person, minutes=minutes if is_known else None)
