"""The rows of the three files that the loaders read, and the list of what is true about them."""

from __future__ import annotations

from datetime import date, timedelta

from coaching.simulation.days import WEEKDAY_NAMES
from coaching.simulation.done import Done, DoneExercise
from coaching.simulation.lifting import DoneSet
from coaching.simulation.person import Person
from coaching.simulation.plan import Ask, Planned
from coaching.simulation.script import Truth

Row = dict[str, str]
CLIENT_COLUMNS = (
    "client", "name", "email", "time_zone", "unit", "joined_on", "sends", "minutes", "kit", "pauses", "goal",
)  # fmt: skip
BLOCK_COLUMNS = (
    "client", "block", "starts_on", "week", "day", "session", "slot", "exercise", "implement", "count", "sets", "reps",
    "load", "unit", "rest_s", "changed",
)  # fmt: skip
LOG_COLUMNS = (
    "client", "performed_on", "block", "week", "session", "exercise", "set", "reps", "load", "unit", "rest_s",
    "warm_up", "minutes", "rpe", "pain", "pain_region", "note", "submission",
)  # fmt: skip
TRUTH_COLUMNS = (
    "client", "situation", "what", "kind", "subject", "urgency", "holds_from", "holds_until",
)  # fmt: skip
# A pause is known to the coach about a week ahead.
PAUSE_TOLD_DAYS_AHEAD = 7


def client_row(person: Person, until: date) -> Row:
    known_pauses = [pause for pause in person.pauses if pause.first - timedelta(PAUSE_TOLD_DAYS_AHEAD) <= until]
    return {
        "client": person.key,
        "name": person.name,
        "email": person.email,
        "time_zone": person.time_zone,
        "unit": person.kit.unit,
        "joined_on": str(person.joined_on),
        "sends": person.sends,
        "minutes": _text(person.minutes),
        "kit": person.kit.text,
        "pauses": "; ".join(f"{pause.first}..{pause.last}" for pause in known_pauses),
        "goal": person.goal,
    }


def block_rows(person: Person, planned: Planned) -> list[Row]:
    """One row for each exercise of a planned session."""
    session = {
        "client": person.key,
        "block": planned.block,
        "starts_on": str(planned.block_starts_on),
        "week": str(planned.week),
        "day": WEEKDAY_NAMES[planned.day.weekday()],
        "session": planned.label,
    }
    return [session | _ask_cells(ask) for ask in planned.asks]


def _ask_cells(ask: Ask) -> Row:
    movement = ask.movement
    return {
        "slot": movement.slot,
        "exercise": movement.name,
        "implement": movement.implement,
        "count": str(movement.count),
        "sets": str(len(ask.targets)),
        "reps": _reps(ask),
        "load": _text(ask.load),
        "unit": "",
        "rest_s": str(ask.rest_s),
        "changed": ask.changed,
    }


def _reps(ask: Ask) -> str:
    if len(set(ask.targets)) > 1:
        return "-".join(str(target) for target in ask.targets)
    words = [str(ask.targets[0]), ask.movement.measure, "each" if ask.movement.is_each_side else ""]
    return " ".join(filter(None, words))


def log_rows(person: Person, done: Done) -> list[Row]:
    """One row for each set; a session without any has one row."""
    named = done.planned if person.habits.names_session else None
    session = dict.fromkeys(LOG_COLUMNS, "") | {
        "client": person.key,
        "performed_on": str(done.performed_on),
        "block": named.block if named else "",
        "week": str(named.week) if named else "",
        "session": named.label if named else "",
        "submission": done.submission,
    }
    sets = [cells for exercise in done.exercises for cells in _set_cells(exercise)] or [{}]
    rows = [session | cells for cells in sets]
    rows[0] |= _session_cells(done)
    return rows


def _session_cells(done: Done) -> Row:
    return {
        "minutes": _text(done.minutes),
        "rpe": _text(done.effort),
        "pain": _text(done.pain),
        "pain_region": done.region,
        "note": done.remark,
    }


def _set_cells(exercise: DoneExercise) -> list[Row]:
    return [_one_set(exercise.name, number, done_set) for number, done_set in enumerate(exercise.sets, start=1)]


def _one_set(name: str, number: int, done_set: DoneSet) -> Row:
    return {
        "exercise": name,
        "set": str(number),
        "reps": str(done_set.reps),
        "load": _text(done_set.load),
        "rest_s": _text(done_set.rest_s),
        "warm_up": "yes" if done_set.is_warm_up else "",
    }


def truth_row(person: Person, truth: Truth, subject: str) -> Row:
    return {
        "client": person.key,
        "situation": truth.situation,
        "what": truth.what,
        "kind": truth.kind,
        "subject": subject,
        "urgency": truth.urgency,
        "holds_from": str(truth.holds_from),
        "holds_until": _text(truth.holds_until),
    }


def _text(cell: float | str | date | None) -> str:
    if cell is None:
        return ""
    return f"{cell:g}" if isinstance(cell, float) else str(cell)
