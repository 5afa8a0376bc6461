"""A client's planned sessions, from the rounds of their lanes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from coaching.simulation.days import days_later
from coaching.simulation.person import Lane, Person
from coaching.simulation.progressions import Stage, rest_of, targets_of
from coaching.simulation.rounds import Round, load_at, rounds_of
from coaching.simulation.script import Script, Step
from coaching.simulation.shelf import Movement

# The coach writes a block on the Tuesday of the last week of the one before.
DRAFTED_DAYS_AHEAD = 6


@dataclass(frozen=True)
class Ask:
    """What one planned session asks of one exercise."""

    lane: Lane
    movement: Movement
    targets: tuple[int, ...]
    # A load of the kit, or the words that the file has in its place.
    load: float | str
    lighter_load: float | str
    heavier_load: float | str
    rest_s: int
    changed: str


@dataclass(frozen=True)
class Planned:
    """One planned session."""

    block: str
    block_starts_on: date
    week: int
    day: date
    label: str
    asks: tuple[Ask, ...]


def planned_sessions(person: Person, script: Script, until: date) -> list[Planned]:
    """Every session of every block that has been written by `until`, in order of time."""
    starts = [
        start
        for start in person.block_starts(days_later(until, 28))
        if script.drafted_on.get(start, _drafted_on(person, start)) <= until
    ]
    if not starts:
        return []
    rounds = {lane: rounds_of(person, script, lane, starts) for lane in person.lanes}
    return [
        _planned_session(
            person, {lane: rounds[lane][max(0, block - 1) : block + 1] for lane in rounds}, block, start, week, session
        )
        for block, start in enumerate(starts)
        for week in range(person.shape.weeks)
        for session in range(len(person.training_weekdays))
    ]


def _drafted_on(person: Person, start: date) -> date:
    return person.joined_on if start == person.first_block_on else days_later(start, -DRAFTED_DAYS_AHEAD)


def _planned_session(
    person: Person, rounds: dict[Lane, list[Round]], block: int, start: date, week: int, session: int
) -> Planned:
    lanes = sorted(lane for lane in person.lanes if lane.session == session)
    return Planned(
        block=f"Block {block + 1}",
        block_starts_on=start,
        week=week + 1,
        day=days_later(start, 7 * week + person.training_weekdays[session]),
        label=person.session_names[session],
        asks=tuple(_ask(person, lane, rounds[lane], week) for lane in lanes),
    )


def _ask(person: Person, lane: Lane, rounds: list[Round], week: int) -> Ask:
    now, stage = rounds[-1], person.shape.stages[week]
    if now.step is Step.FLAT:
        stage = person.shape.stages[0]
    loads = [load_at(person, now.movement, now.rung + more) for more in (-1, 0, 1)]
    is_deload = stage.changed == "deload"
    return Ask(
        lane=lane,
        movement=now.movement,
        targets=targets_of(
            stage,
            sets=person.first_sets,
            reps=now.first_reps,
            measure=now.movement.measure,
            is_per_set=person.shape.is_per_set,
        ),
        load=loads[0] if is_deload else loads[1],
        lighter_load=loads[0],
        heavier_load=loads[2],
        rest_s=rest_of(stage, person.rest_s),
        changed=_changed(rounds, stage, week),
    )


def _changed(rounds: list[Round], stage: Stage, week: int) -> str:
    if week == 0 and len(rounds) > 1 and rounds[-1].rung > rounds[-2].rung:
        return "load"
    return stage.changed
