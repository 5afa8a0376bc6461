"""Logs as clients might send them: with labels and without, late, doubled, short, too heavy, in pain, or not at all."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from random import Random
from uuid import UUID

from tests.rosters.exercises import BESIDE_THE_PLAN, Climb, start_climb, times
from tests.rosters.plans import Asked, Session, Style
from tests.rosters.roster import LOG_COLUMNS, Row, respell

PHASES = {
    # How the next few weeks go: the chance to turn up.
    "steady": 0.95,
    "patchy": 0.55,
    "hardly": 0.25,
    "gone": 0.0,
    "cut short": 0.9,
    "hurting": 0.9,
    "too long": 0.9,
}
MOODS = ["as asked", "as asked", "as asked", "short", "over", "lighter", "heavier", "skips", "fewer", "mixed"]
REGIONS = ["knee", "shoulder", "low back", ""]


@dataclass
class Trainee:
    """One client's habits while their logs are written."""

    random: Random
    style: Style
    # The share of logs that name their planned session.
    naming: float
    minutes: int
    phase: str = "steady"
    phase_ends_on: date = date.min
    moods: dict[str, str] = field(default_factory=dict)
    keys: set[tuple[str, ...]] = field(default_factory=set)


def write_logs(trainee: Trainee, sessions: list[Session], until: date) -> list[Row]:
    rows: list[Row] = []
    for session in sorted(sessions, key=lambda planned: planned.suggested_on):
        if session.suggested_on > until:
            break
        _maybe_change_phase(trainee, session)
        if trainee.random.random() < PHASES[trainee.phase]:
            rows += _log_session(trainee, session)
        if trainee.random.random() < 0.04:
            rows += _log_beside_the_plan(trainee, session.suggested_on + timedelta(days=trainee.random.randint(0, 9)))
    return [row for row in rows if row["performed_on"] <= until.isoformat()]


def _maybe_change_phase(trainee: Trainee, session: Session) -> None:
    if session.suggested_on <= trainee.phase_ends_on:
        return
    random = trainee.random
    trainee.phase = random.choices(list(PHASES), weights=[6, 2, 0.5, 1.2, 1, 1, 1])[0]
    trainee.phase_ends_on = session.suggested_on + timedelta(days=random.choice([9, 16, 23, 34]))
    trainee.moods = {}


def _log_session(trainee: Trainee, session: Session) -> list[Row]:
    random = trainee.random
    performed_on = session.suggested_on + timedelta(days=random.choice([0, 0, 0, 0, 0, 0, 1, 1, 2, -1, 4, 8]))
    rows = _write_log(trainee, session, performed_on)
    if random.random() < 0.04:
        rows += _write_log(trainee, session, performed_on + timedelta(days=random.choice([0, 1, 3])))
    return rows


def _write_log(trainee: Trainee, session: Session, performed_on: date) -> list[Row]:
    random = trainee.random
    names = {}
    if session.label and random.random() < trainee.naming:
        names = {
            "block": respell(random, session.block),
            "week": str(session.week),
            "session": respell(random, session.label),
        }
    sets = [] if random.random() < 0.04 else _sets_of_session(trainee, session)
    return _finish(trainee, performed_on, names, sets)


def _log_beside_the_plan(trainee: Trainee, performed_on: date) -> list[Row]:
    movement = trainee.random.choice(BESIDE_THE_PLAN)
    climb = start_climb(movement, trainee.style.unit)
    sets = [_set(climb, number, 10, climb.load(), "") for number in (1, 2)]
    return _finish(trainee, performed_on, {}, sets)


def _finish(trainee: Trainee, performed_on: date, names: Row, sets: list[Row]) -> list[Row]:
    """The rows of one log: its names in each, what belongs to the session in the first."""
    key = {"client": trainee.style.key, "performed_on": performed_on.isoformat(), "submission": "", **names}
    key["submission"] = _submission(trainee, key)
    empty = dict.fromkeys(LOG_COLUMNS, "")
    rows = [{**empty, **key, **logged} for logged in (sets or [{}])]
    rows[0].update(_about_the_session(trainee))
    return rows


def _submission(trainee: Trainee, key: Row) -> str:
    """Empty where the rest of the key tells the log from the others."""
    folded = tuple(key.get(column, "").strip().casefold() for column in ("performed_on", "block", "week", "session"))
    if folded in trainee.keys or trainee.random.random() < 0.05:
        return str(UUID(int=trainee.random.getrandbits(128), version=4))
    trainee.keys.add(folded)
    return ""


def _about_the_session(trainee: Trainee) -> Row:
    random = trainee.random
    minutes = trainee.minutes + random.randint(-4, 4)
    if trainee.phase == "too long":
        minutes = round(trainee.minutes * random.choice([1.3, 1.4, 1.6]))
    pain, region = random.choice(["", "", "", "0", "0", "1", "2"]), ""
    if trainee.phase == "hurting" and random.random() < 0.8:
        pain, region = random.choice(["1", "2", "3", "4", "5", "6", "8"]), random.choice(REGIONS)
    return {
        "minutes": "" if random.random() < 0.15 else f"{minutes}.5" if random.random() < 0.1 else str(minutes),
        "rpe": "" if random.random() < 0.15 else random.choice(["5", "6", "6.5", "7", "8", "9"]),
        "pain": pain,
        "pain_region": region,
        "note": random.choice(["", "", "", 'Slept badly, "very" warm', "Good one; felt light"]),
    }


def _sets_of_session(trainee: Trainee, session: Session) -> list[Row]:
    random = trainee.random
    numbers: dict[str, int] = {}
    rows: list[Row] = []
    for asked in session.asked:
        name = asked.climb.movement.name
        if random.random() < 0.12:
            numbers[name] = numbers.get(name, 0) + 1
            warm_up = _set(asked.climb, numbers[name], asked.targets[0], asked.climb.load(-1), asked.unit)
            rows.append({**warm_up, "warm_up": random.choice(["yes", "1"])})
        for done in _sets_done(trainee, asked):
            numbers[name] = numbers.get(name, 0) + 1
            if done is not None:
                rows.append({**done, "set": str(numbers[name])})
    if trainee.phase == "cut short":
        rows = rows[: max(len(rows) // 2, 1)]
    if random.random() < 0.2:
        # In turns, as when exercises alternate.
        rows.sort(key=lambda row: int(row["set"]))
    if random.random() < 0.05:
        random.shuffle(rows)
    return rows


def _sets_done(trainee: Trainee, asked: Asked) -> list[Row | None]:
    """A row for each set; None for one that was left out in the middle."""
    random = trainee.random
    mood = trainee.moods.setdefault(asked.climb.movement.name, random.choice(MOODS))
    if mood == "mixed" or random.random() < 0.1:
        mood = random.choice(MOODS)
    if mood == "skips":
        return []
    targets = list(asked.targets)
    if mood == "short":
        targets[-1] = max(targets[-1] - random.choice([1, 2, targets[-1]]), 0)
    if mood == "over":
        targets[-1] += random.choice([2, 2, 3])
    if mood == "fewer":
        targets = targets[:-1]
    if random.random() < 0.04:
        targets.append(targets[-1] if targets else asked.targets[0])
    load = {"lighter": asked.climb.load(-1), "heavier": asked.climb.load(1)}.get(mood, asked.load)
    if mood == "short" and random.random() < 0.15:
        load = times(load, 1.01)
    rows: list[Row | None] = [_done(random, asked, reps, load) for reps in targets]
    if mood == "heavier" and rows and random.random() < 0.7:
        # Heavier than asked, and so one short.
        rows[-1] = _done(random, asked, max(targets[-1] - 2, 0), load)
    if len(rows) > 1 and random.random() < 0.04:
        rows[random.randrange(len(rows))] = None
    return rows


def _done(random: Random, asked: Asked, reps: int, load: str) -> Row:
    row = _set(asked.climb, 0, reps, _nearly(random, load), asked.unit)
    rest_s = round(asked.rest_s * random.choice([1, 1, 1.25, 1.4]))
    if random.random() < 0.7:
        row["rest_s"] = str(rest_s)
    row["exercise"] = respell(random, row["exercise"])
    row["warm_up"] = random.choice(["", "", "no", "0"])
    return row


def _nearly(random: Random, load: str) -> str:
    """Sometimes exactly on the edge of what counts as the load asked for, sometimes left empty."""
    if not load[0].isdigit() or random.random() > 0.03:
        return load
    return random.choice([times(load, share) for share in (0.98, 0.99, 1.01, 1.02)] + [""])


def _set(climb: Climb, number: int, reps: int, load: str, unit: str) -> Row:
    return {
        "exercise": climb.movement.name,
        "set": str(number),
        "reps": str(reps),
        "load": load,
        "unit": unit if load and load[0].isdigit() else "",
    }
