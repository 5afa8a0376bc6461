"""What fills a lane, block after block: an exercise at one load, until strength or patience asks for the next."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from coaching.simulation.days import dice_for
from coaching.simulation.person import Lane, Person
from coaching.simulation.script import Script, Step
from coaching.simulation.shelf import BANDS, BODY_WEIGHT, PLACES, SHELF, Movement

# Rounds of more reps at one load; after them comes the next load, or a harder exercise.
MOST_BRIDGES = 2
REPS_OF_A_BRIDGE = 2


@dataclass(frozen=True)
class Round:
    """One block of one lane: an exercise at one load, from the reps of its first week on."""

    movement: Movement
    # Place in the row of loads that the client's kit has for the implement, or among the bands.
    rung: int
    first_reps: int
    bridges: int = 0
    step: Step = Step.STEP


def rounds_of(person: Person, script: Script, lane: Lane, starts: list[date]) -> list[Round]:
    """The lane's round in each block."""
    first = _first_round(person, person.lanes[lane], person.first_reps)
    rounds = [replace(first, step=script.steps.get((lane, starts[0]), Step.STEP))]
    for start in starts[1:]:
        bound = script.steps.get((lane, start))
        # What was repeated or stood still moves on at last.
        is_bound = bound is not None or rounds[-1].step in (Step.REPEAT, Step.FLAT)
        step = bound or _step_by_strength(person, lane, rounds)
        following = _next_round(person, lane, rounds, step, is_bound=is_bound)
        if start == script.keeps_exercises_on and following.movement != rounds[-1].movement:
            following = _bridge(rounds[-1])
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


def _step_by_strength(person: Person, lane: Lane, rounds: list[Round]) -> Step:
    """Step when strength has grown enough for the next load, or when more reps have been asked for long enough."""
    latest = rounds[-1]
    if latest.step in (Step.REPEAT, Step.FLAT) or latest.bridges >= MOST_BRIDGES:
        return Step.STEP
    if not latest.movement.has_mass:
        return Step.BRIDGE
    gained = _strength_gained(person, lane, latest, len(rounds))
    return Step.STEP if gained >= _rise_of_next_load(person, latest) else Step.BRIDGE


def _rise_of_next_load(person: Person, latest: Round) -> float:
    now, after = (load_at(person, latest.movement, latest.rung + more) for more in (0, 1))
    return float(after) / float(now) - 1


def _strength_gained(person: Person, lane: Lane, latest: Round, number: int) -> float:
    """What a round has earned by Epley (its last reps against its first), with growth and luck beside it."""
    earned = (1 + (latest.first_reps + 2) / 30) / (1 + person.first_reps / 30) - 1
    growth = person.growth * person.shape.weeks * (1 + latest.bridges)
    return earned + growth + dice_for(person.seed, person.number, lane, number).gauss(0, 0.03)


def _next_round(person: Person, lane: Lane, rounds: list[Round], step: Step, *, is_bound: bool) -> Round:
    latest = rounds[-1]
    match step:
        case Step.REPEAT:
            return replace(latest, step=step)
        case Step.FLAT:
            return latest if latest.step is step else replace(latest, first_reps=latest.first_reps + 2, step=step)
        case Step.BRIDGE:
            return _bridge(latest)
    # The heaviest load is left to situations that need a step.
    highest = _rungs(person, latest.movement) - (1 if is_bound else 2)
    if latest.rung < highest:
        return Round(latest.movement, latest.rung + 1, person.first_reps)
    movement = _another_movement(person, lane, rounds)
    return _first_round(person, movement, person.first_reps) if movement else _bridge(latest)


def _bridge(latest: Round) -> Round:
    return Round(latest.movement, latest.rung, latest.first_reps + REPS_OF_A_BRIDGE, latest.bridges + 1, Step.BRIDGE)


def _another_movement(person: Person, lane: Lane, rounds: list[Round]) -> Movement | None:
    """The harder neighbour, else one of the same sort that this client has not met yet, here or in another session."""
    movement = rounds[-1].movement
    if movement.harder:
        return SHELF[movement.harder]
    first_ones, neighbours = set(person.lanes.values()), {other.harder for other in PLACES[lane.place]}
    others = [other for other in PLACES[lane.place] if other not in first_ones and other.name not in neighbours]
    # Each session takes from a share of its own, so that no exercise comes up in two.
    own_share = others[lane.session :: len(person.training_weekdays)]
    met = {earlier.movement for earlier in rounds}
    return next((other for other in own_share if other not in met and _is_of_one_sort(person, other, movement)), None)


def _is_of_one_sort(person: Person, other: Movement, movement: Movement) -> bool:
    is_at_hand = not other.has_mass or other.implement in person.kit.loads
    return is_at_hand and (other.has_mass, other.is_plain) == (movement.has_mass, movement.is_plain)
