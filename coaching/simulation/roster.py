"""A whole roster with its months of training, drawn from a seed: what the loaders read, and what is true about it."""

from __future__ import annotations

import csv
import random
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from coaching.simulation.casting import DEFAULT_MIX, PASSING, Part, parts_for, passing_for
from coaching.simulation.days import Span, days_later, dice_for
from coaching.simulation.drawing import draw_person, names_for
from coaching.simulation.person import Person
from coaching.simulation.plan import Planned, planned_sessions
from coaching.simulation.rows import (
    BLOCK_COLUMNS,
    CLIENT_COLUMNS,
    LOG_COLUMNS,
    TRUTH_COLUMNS,
    Row,
    block_rows,
    client_row,
    log_rows,
    truth_row,
)
from coaching.simulation.script import Script, Truth
from coaching.simulation.training import train

FEWEST_WEEKS = 12
# Where in a block a passing situation is at its height: the Sunday of the third week, a day without training.
HEIGHT_OF_A_PASSING_SITUATION = 20
SEASON_DAYS = 56
SHARE_OF_SEASONS = 0.4
# How far ahead a situation has to be known, because it touches the weeks before it.
LONGEST_SHADOW_DAYS = 120


@dataclass
class SimulatedRoster:
    """Rows of the three files, and of the truth about them, in the order of clients and days."""

    clients: list[Row] = field(default_factory=list)
    blocks: list[Row] = field(default_factory=list)
    logs: list[Row] = field(default_factory=list)
    truth: list[Row] = field(default_factory=list)


def simulate(
    seed: int,
    clients: int = 36,
    weeks: int = 26,
    *,
    until: date,
    mix: Mapping[str, float] | None = None,
    staged_for: date | None = None,
    progress: Callable[[int], None] | None = None,
) -> SimulatedRoster:
    """A roster as the coach has it on the morning of `until`; `progress` hears how many clients are made.

    Situations are arranged around `staged_for` (`until` if not given). With that day kept, a later `until` adds
    to the rows and changes none of the past: every client's week has dice of its own.
    """
    if weeks < FEWEST_WEEKS or clients < 1:
        raise ValueError(f"A roster needs a client, and {FEWEST_WEEKS} weeks or more.")
    staged_for = staged_for or until
    roster = SimulatedRoster()
    cast = _cast(seed, clients, weeks, staged_for, until, mix or DEFAULT_MIX)
    for made, (person, script) in enumerate(cast, start=1):
        _add_person(roster, person, script, until)
        if progress:
            progress(made)
    return roster


def write(roster: SimulatedRoster, directory: Path) -> None:
    """clients.csv, blocks.csv, logs.csv and truth.csv, as RFC 4180 has them."""
    directory.mkdir(parents=True, exist_ok=True)
    _write_file(directory / "clients.csv", CLIENT_COLUMNS, roster.clients)
    _write_file(directory / "blocks.csv", BLOCK_COLUMNS, roster.blocks)
    _write_file(directory / "logs.csv", LOG_COLUMNS, roster.logs)
    _write_file(directory / "truth.csv", TRUTH_COLUMNS, roster.truth)


def _write_file(path: Path, columns: tuple[str, ...], rows: list[Row]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, columns)
        writer.writeheader()
        writer.writerows(rows)


def _cast(
    seed: int, clients: int, weeks: int, staged_for: date, until: date, mix: Mapping[str, float]
) -> list[tuple[Person, Script]]:
    parts = parts_for(clients, mix, dice_for(seed, "parts"))
    names = names_for(clients, dice_for(seed, "names"))
    people = [draw_person(seed, number, names[number], part, staged_for, weeks) for number, part in enumerate(parts)]
    scripts = [_script_of(person, part, staged_for) for person, part in zip(people, parts, strict=True)]
    cast = list(zip(people, scripts, parts, strict=True))
    _let_situations_pass(cast, passing_for(clients, mix), staged_for, seed)
    if mix["passing"]:
        _let_life_go_on(cast, staged_for, until)
    return [(person, script) for person, script, _ in cast]


def _script_of(person: Person, part: Part, staged_for: date) -> Script:
    script = Script()
    if person.first_block_on <= staged_for:
        # An exercise that has just been dropped would still be told of.
        script.keeps_exercises_on = person.block_start_before(staged_for)
    if part.now:
        part.now(person, script, staged_for)
    elif person.week_of_block(staged_for) == 2:
        # With the first week missed, the round before would still be the latest, and ready for a step.
        script.tidy.append(Span(days_later(staged_for, -14), staged_for))
    return script


def _can_pass(person: Person, part: Part) -> bool:
    # A plan that stands still is told only of somebody who has come for eight weeks.
    return person.is_usual and not part.is_new and part.name != "no_step" and bool(person.plain_lanes())


def _let_situations_pass(
    cast: list[tuple[Person, Script, Part]], names: list[str], staged_for: date, seed: int
) -> None:
    """Deals out what came and went, those who have nothing now first, to blocks that lie well in the past."""
    dice = dice_for(seed, "passing")
    room = [
        (place, part.now is not None, dice.random(), person, script, start)
        for person, script, part in cast
        if _can_pass(person, part)
        for place, start in enumerate(_blocks_with_room(person, staged_for, dice))
    ]
    for name, (*_, person, script, start) in zip(names, sorted(room, key=lambda entry: entry[:3]), strict=False):
        PASSING[name](person, script, days_later(start, HEIGHT_OF_A_PASSING_SITUATION))


def _blocks_with_room(person: Person, staged_for: date, dice: random.Random) -> list[date]:
    """Every other block between the second and the last but two, so that no two situations touch."""
    starts = [
        start for start in list(person.block_starts(staged_for))[2:-2][::-2] if _is_far_from_pauses(person, start)
    ]
    return dice.sample(starts, len(starts))


def _is_far_from_pauses(person: Person, start: date) -> bool:
    """What is done in the week after a long break counts for no landing."""
    around = Span(days_later(start, -56), days_later(start, 42))
    return not any(around.holds(pause.first) or around.holds(pause.last) for pause in person.pauses)


def _let_life_go_on(cast: list[tuple[Person, Script, Part]], staged_for: date, until: date) -> None:
    """After the day that the roster was staged for, something comes up for some people in every season."""
    for person, script, part in cast:
        if _can_pass(person, part):
            for start in person.block_starts(days_later(until, LONGEST_SHADOW_DAYS)):
                _add_season(person, script, start, staged_for)


def _add_season(person: Person, script: Script, start: date, staged_for: date) -> None:
    season, days_into_it = divmod((start - staged_for).days, SEASON_DAYS)
    dice = dice_for(person.seed, person.number, "season", season)
    # The first half of a season is left to what went before.
    if season >= 0 and days_into_it >= SEASON_DAYS // 2 and dice.random() < SHARE_OF_SEASONS:
        PASSING[dice.choice(list(PASSING))](person, script, days_later(start, HEIGHT_OF_A_PASSING_SITUATION))


def _add_person(roster: SimulatedRoster, person: Person, script: Script, until: date) -> None:
    plan = planned_sessions(person, script, until)
    logs = sorted(train(person, script, plan), key=lambda done: done.performed_on)
    roster.clients.append(client_row(person, until))
    roster.blocks += [row for planned in plan for row in block_rows(person, planned)]
    roster.logs += [row for done in logs if done.received_on <= until for row in log_rows(person, done)]
    roster.truth += [
        truth_row(person, truth, _subject(truth, plan)) for truth in script.truths if _is_told(truth, until)
    ]


def _is_told(truth: Truth, until: date) -> bool:
    """A block that was late leaves no trace once it is there: plans are taken as they stand."""
    is_forgotten = truth.kind == "plan_runs_out" and truth.holds_until is not None and truth.holds_until < until
    return truth.holds_from <= until and not is_forgotten


def _subject(truth: Truth, plan: list[Planned]) -> str:
    """The name of the exercise that fills the truth's lane on its first day."""
    if truth.lane is None:
        return truth.subject
    asks = [
        ask for planned in plan if planned.day <= truth.holds_from for ask in planned.asks if ask.lane == truth.lane
    ]
    return asks[-1].movement.name
