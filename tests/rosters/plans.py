"""Blocks as a coach might write them: stages that change one variable a week, loads that rise, stay and return."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from random import Random

from tests.rosters.exercises import MOVEMENTS, Climb, start_climb
from tests.rosters.roster import Row, respell

DAYS = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
LABELS = [["A", "B", "C", "D"], ["Upper day", "Lower day", "Whole day", "Short day"], ["1", "2", "3", "4"]]


@dataclass(frozen=True)
class Stage:
    sets: int
    reps: int
    rest_s: int
    changed: str


@dataclass(eq=False)
class Asked:
    """One planned exercise: as written in the file, with what training it needs to know."""

    climb: Climb
    targets: list[int]
    load: str
    unit: str
    rest_s: int
    row: Row


@dataclass(eq=False)
class Session:
    block: str
    week: int
    label: str
    suggested_on: date
    asked: list[Asked] = field(default_factory=list)


@dataclass(frozen=True)
class Style:
    """How one client is coached."""

    key: str
    unit: str
    sessions_a_week: int
    stages: int
    # Whether planned sessions have labels.
    has_labels: bool


def plan_blocks(random: Random, style: Style, starts_on: date, weeks: int) -> list[Session]:
    """Blocks back to back or with gaps, from `starts_on` on; the last may reach beyond `weeks`."""
    climbs = [start_climb(movement, style.unit) for movement in random.sample(MOVEMENTS, random.randint(4, 7))]
    sessions: list[Session] = []
    week, number = 0, 1
    while week < weeks:
        planned = _plan_block(random, style, climbs, f"Block {number}", starts_on + timedelta(weeks=week))
        sessions += planned
        week += max(session.week for session in planned) + random.choice([0, 0, 0, 0, 1, 3])
        number += 1
        for climb in climbs:
            climb.steps = max(climb.steps + random.choice([1, 1, 1, 0, -1]), 0)
            _change_how(random, climb)
    return sessions


def _plan_block(random: Random, style: Style, climbs: list[Climb], label: str, monday: date) -> list[Session]:
    is_flat = random.random() < 0.2
    stages = plan_stages(random, style.stages)
    if is_flat:
        stages = [stages[0]] * style.stages
    rounds = random.choice([1, 1, 2])
    weeks = stages * rounds
    if random.random() < 0.35:
        first = weeks[0]
        weeks = [*weeks, Stage(max(first.sets - 1, 1), first.reps, first.rest_s, "deload")]
    days = sorted(random.sample(range(7), style.sessions_a_week))
    labels = random.choice(LABELS) if style.has_labels else [""] * 4
    menus = [_choose_menu(random, climbs) for _ in days]
    planned = []
    for week, stage in enumerate(weeks, start=1):
        if week == style.stages + 1 and rounds == 2:
            _step_loads(random, climbs)
        for day, name, menu in zip(days, labels, menus, strict=False):
            session = Session(label, week, name, monday + timedelta(days=7 * (week - 1) + day))
            for climb in menu:
                session.asked.append(_ask(random, style, session, monday, climb, stage, menu.index(climb)))
            _ask_once_more(random, style, session, monday, menu, stage)
            planned.append(session)
    return planned


def _change_how(random: Random, climb: Climb) -> None:
    """From one block to the next: one implement or two, both sides or each."""
    if climb.movement.has_mass and random.random() < 0.15:
        climb.count = 3 - climb.count
    if climb.movement.counted_in in ("reps", "each") and random.random() < 0.15:
        climb.is_each_side = not climb.is_each_side


def _step_loads(random: Random, climbs: list[Climb]) -> None:
    for climb in climbs:
        climb.steps += random.choice([0, 1, 1])


def _choose_menu(random: Random, climbs: list[Climb]) -> list[Climb]:
    return random.sample(climbs, random.randint(2, min(4, len(climbs))))


def plan_stages(random: Random, count: int) -> list[Stage]:
    stages = [Stage(random.choice([2, 3]), random.choice([6, 8, 10]), random.choice([60, 75, 90]), "none")]
    while len(stages) < count:
        last = stages[-1]
        stages.append(
            random.choice(
                [
                    Stage(last.sets + 1, last.reps, last.rest_s, "sets"),
                    Stage(last.sets, last.reps + 2, last.rest_s, "reps"),
                    Stage(last.sets, last.reps, last.rest_s - 10, "rest"),
                ]
            )
        )
    return stages


def _ask(random: Random, style: Style, session: Session, monday: date, climb: Climb, stage: Stage, place: int) -> Asked:
    targets = _targets(climb.movement.counted_in, stage)
    load, unit = climb.load(), ""
    if climb.movement.has_mass and random.random() < 0.1:
        unit = style.unit
    row = {
        "client": style.key,
        "block": respell(random, session.block),
        "starts_on": monday.isoformat(),
        "week": str(session.week),
        "day": DAYS[session.suggested_on.weekday()],
        "session": respell(random, session.label),
        "slot": climb.movement.slot,
        "exercise": respell(random, climb.movement.name),
        "implement": climb.movement.implement,
        "count": str(climb.count) if climb.count > 1 or random.random() < 0.5 else "",
        "sets": str(stage.sets),
        "reps": _write_reps(climb, targets),
        "load": "" if load == "bw" and random.random() < 0.5 else load,
        "unit": unit,
        # The last exercise of a session is sometimes asked for without a rest.
        "rest_s": "" if place == 3 else str(stage.rest_s),
        "changed": stage.changed,
    }
    return Asked(climb, targets, load, unit, stage.rest_s, row)


def _targets(counted_in: str, stage: Stage) -> list[int]:
    if counted_in == "ladder":
        return [max(stage.reps + 4 - 2 * index, 3) for index in range(stage.sets)]
    return [stage.reps * (3 if counted_in == "m" else 1)] * stage.sets


def _write_reps(climb: Climb, targets: list[int]) -> str:
    counted_in = climb.movement.counted_in
    if counted_in == "ladder" and len(targets) > 1:
        return "-".join(str(target) for target in targets)
    if climb.is_each_side:
        return f"{targets[0]} each"
    return f"{targets[0]} {counted_in}" if counted_in in ("s", "m") else str(targets[0])


def _ask_once_more(
    random: Random, style: Style, session: Session, monday: date, menu: list[Climb], stage: Stage
) -> None:
    """In every third session or so of some blocks the first exercise comes back, lighter or as it was."""
    if len(menu) != 3:
        return
    again = _ask(random, style, session, monday, menu[0], Stage(1, stage.reps + 2, 45, stage.changed), 2)
    if session.week % 2 == 0:
        again.load = again.row["load"] = menu[0].load(-1)
    session.asked.append(again)
