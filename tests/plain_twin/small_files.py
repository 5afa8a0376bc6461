"""Rows of the three files, as few as an example needs: one client, "ana", whose block "Base" starts on Monday
2026-01-05 (2026-W02). Sets are written "8@20 8@20": reps at a load in kg; "8" alone is body weight, "8@20*" a warm-up.
"""

from __future__ import annotations

from datetime import date
from itertools import chain

from tests.plain_twin.client_day import ClientDay, look_at
from tests.plain_twin.reading import Row, read_record
from tests.plain_twin.record import Record
from tests.rosters.roster import BLOCK_COLUMNS, CLIENT_COLUMNS, LOG_COLUMNS

BLOCK_STARTS_ON = "2026-01-05"


def client(**cells: str) -> Row:
    return {**dict.fromkeys(CLIENT_COLUMNS, ""), "client": "ana", "joined_on": "2026-01-01", **cells}


def asked(exercise: str = "Squat", sets: int = 3, reps: str = "8", load: str = "20", **cells: str) -> Row:
    """A row of the blocks file: by default 3 x 8 @ 20 kg on Monday of the first week, in session A."""
    row = {"client": "ana", "block": "Base", "starts_on": BLOCK_STARTS_ON, "week": "1", "day": "mon", "session": "A"}
    row |= {"exercise": exercise, "sets": str(sets), "reps": reps, "load": load, "rest_s": "75", "changed": "none"}
    return {**dict.fromkeys(BLOCK_COLUMNS, ""), **row, **cells}


def done(
    performed_on: str, sets: str | dict[str, str] = "8@20 8@20 8@20", names: str = "1 A", **cells: str
) -> list[Row]:
    """The rows of one log; `names` are week and session of block Base, or nothing."""
    row = {**dict.fromkeys(LOG_COLUMNS, ""), "client": "ana", "performed_on": performed_on}
    if names:
        row["block"], (row["week"], row["session"]) = "Base", names.split()
    by_exercise = {"Squat": sets} if isinstance(sets, str) else sets
    rows = [{**row, **logged} for exercise, text in by_exercise.items() for logged in _sets(exercise, text)]
    rows = rows or [row]
    rows[0].update(cells)
    return rows


def _sets(exercise: str, text: str) -> list[Row]:
    rows = []
    for number, written in enumerate(text.split(), start=1):
        reps, _, load = written.rstrip("*").partition("@")
        warm_up = "yes" if written.endswith("*") else ""
        rows.append({"exercise": exercise, "set": str(number), "reps": reps, "load": load, "warm_up": warm_up})
    return rows


def told(performed_on: str, names: str = "1 A", **cells: str) -> list[Row]:
    """Trained, no details."""
    return done(performed_on, {}, names, **cells)


def record_of(plan: list[Row], *logs: list[Row], **client_cells: str) -> Record:
    return read_record([client(**client_cells)], plan, list(chain(*logs)))


def look(plan: list[Row], *logs: list[Row], on: str, **client_cells: str) -> ClientDay:
    record = record_of(plan, *logs, **client_cells)
    return look_at(record.clients[0], date.fromisoformat(on))
