"""A client's plan: rounds of a lane, block after block, and the planned sessions that come of them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from coaching.simulation.days import days_later, dice_for
from coaching.simulation.person import Lane, Person
from coaching.simulation.progressions import Stage, rest_of, targets_of
from coaching.simulation.script import Script, Step
from coaching.simulation.shelf import BANDS, BODY_WEIGHT, PLACES, SHELF, Movement

MOST_BRIDGES = 2
# A body-weight exercise stays for three rounds; then a harder one takes its place.
MOST_ROUNDS_OF_BODY_WEIGHT = 2
REPS_OF_A_BRIDGE = 2
# The coach writes a block on the Tuesday of the last week of the one before.
DRAFTED_DAYS_AHEAD = 6


@dataclass(frozen=True)
class Round:
    """One block of one lane: an exercise at one load, from the reps of its first week on."""

    movement: Movement
    # Place in the row of loads that the client's kit has for the implement, or among the bands.
    rung: int
    first_reps: int
    bridges: int = 0
    step: Step = Step.STEP


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


def rounds_of(person: Person, script: Script, lane: Lane, starts: list[date]) -> list[Round]:
    """The lane's round in each block."""
    first = _first_round(person, person.lanes[lane], person.first_reps)
    rounds = [replace(first, step=script.steps.get((lane, starts[0]), Step.STEP))]
    for number, start in enumerate(starts[1:], start=1):
        bound = script.steps.get((lane, start))
        is_bound = bound is not None or rounds[-1].step in (Step.REPEAT, Step.FLAT)
        step = bound or _step_by_strength(person, lane, number, rounds[-1])
        following = _next_round(person, lane, number, rounds[-1], step, is_bound=is_bound)
        if start == script.keeps_exercises_on and following.movement != rounds[-1].movement:
            following = _next_round(person, lane, number, rounds[-1], Step.BRIDGE, is_bound=False)
        rounds.append(following)
    return rounds


def _first_round(person: Person, movement: Movement, reps: int) -> Round:
    rung = person.kit.position_near(movement.implement, movement.start_kg * person.strength) if movement.has_mass else 0
    # The heaviest two loads are kept for steps to come.
    highest = max(0, _rungs(person, movement) - 3)
    return Round(movement, min(rung, highest), reps)


def _rungs(person: Person, movement: Movement) -> int:
    if movement.has_mass:
        return len(person.kit.loads[movement.implement])
    return len(BANDS) if movement.implement == "band" else 1


def load_at(person: Person, movement: Movement, rung: int) -> float | str:
    """The load of a rung; rungs beyond the ends are the ends."""
    rung = max(0, min(rung, _rungs(person, movement) - 1))
    if movement.has_mass:
        return person.kit.loads[movement.implement][rung]
    return BANDS[rung] if movement.implement == "band" else BODY_WEIGHT


def _step_by_strength(person: Person, lane: Lane, number: int, latest: Round) -> Step:
    """Step when strength has grown enough for the next load, or when more reps have been asked for long enough."""
    if latest.step in (Step.REPEAT, Step.FLAT):
        return Step.STEP
    if not latest.movement.has_mass:
        return Step.BRIDGE if latest.bridges < MOST_ROUNDS_OF_BODY_WEIGHT else Step.STEP
    if latest.bridges >= MOST_BRIDGES:
        return Step.STEP
    rise = _strength_gained(person, lane, latest, number)
    return Step.STEP if rise >= _rise_of_next_load(person, latest) else Step.BRIDGE


def _rise_of_next_load(person: Person, latest: Round) -> float:
    now, after = (load_at(person, latest.movement, latest.rung + more) for more in (0, 1))
    return float(after) / float(now) - 1


def _strength_gained(person: Person, lane: Lane, latest: Round, number: int) -> float:
    """What a round has earned by Epley (its last reps against its first), with growth and luck beside it."""
    earned = (1 + (latest.first_reps + 2) / 30) / (1 + person.first_reps / 30) - 1
    growth = person.growth * person.shape.weeks * (1 + latest.bridges)
    return earned + growth + dice_for(person.seed, person.number, lane, number).gauss(0, 0.03)


def _next_round(person: Person, lane: Lane, number: int, latest: Round, step: Step, *, is_bound: bool) -> Round:
    movement, rung, reps, bridges = latest.movement, latest.rung, latest.first_reps, latest.bridges
    match step:
        case Step.REPEAT:
            return Round(movement, rung, reps, bridges, step)
        case Step.FLAT:
            return Round(movement, rung, reps if latest.step is Step.FLAT else reps + 2, bridges, step)
        case Step.BRIDGE:
            return Round(movement, rung, reps + REPS_OF_A_BRIDGE, bridges + 1, step)
    # The heaviest load is left to situations that need a step.
    highest = _rungs(person, movement) - (1 if is_bound else 2)
    if rung < highest:
        return Round(movement, rung + 1, person.first_reps)
    return _first_round(person, _another_movement(person, lane, number, movement), person.first_reps)


def _another_movement(person: Person, lane: Lane, number: int, movement: Movement) -> Movement:
    """The harder neighbour, else another of the same place and the same sort that the client does nowhere else."""
    if movement.harder:
        return SHELF[movement.harder]
    others = [
        other
        for other in PLACES[lane.place]
        if other not in person.lanes.values()
        and (other.has_mass, other.is_plain) == (movement.has_mass, movement.is_plain)
        if not other.has_mass or other.implement in person.kit.loads
    ]
    return dice_for(person.seed, person.number, lane, number, "new").choice(others) if others else movement


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
