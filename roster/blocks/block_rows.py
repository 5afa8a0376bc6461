"""Rows of a file of blocks, read and checked, nothing saved.

Rows of one client and block label are a block; within it, rows of one week and session label are a session (rows
without a label: of one week and day), and their order is the order of its exercises.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta

from roster.blocks.cells import BODY_WEIGHT, Load, Targets, parse_load, parse_targets
from roster.blocks.models import Changed, Slot
from roster.labels import fold
from roster.mass import MassUnit
from roster.people.client_cells import known_client
from roster.people.models import Client
from roster.tables.cells import one_of, required, text, whole_number
from roster.tables.faults import Faults
from roster.tables.headers import Columns
from roster.tables.table import CellReader, Row, Table

COLUMNS = Columns(
    known=(
        "client", "block", "starts_on", "week", "day", "session", "slot", "exercise", "implement", "count", "sets",
        "reps", "load", "unit", "rest_s", "changed",
    ),
    required=("client", "block", "starts_on", "week", "day", "exercise", "sets", "reps"),
)  # fmt: skip
DAYS = {"mon": 0, "tue": 1, "wed": 2, "thu": 3, "fri": 4, "sat": 5, "sun": 6}
LONGEST_LABEL, LONGEST_EXERCISE, LONGEST_IMPLEMENT = 80, 120, 60
MOST_WEEKS, MOST_SETS, LONGEST_REST_S = 520, 200, 32_767
# A session within its block: its week, its folded label, and, without a label, its weekday.
SessionKey = tuple[int, str, int | None]


@dataclass(slots=True)
class ExerciseEntry:
    """What one row asks of one exercise."""

    row: int
    exercise: str
    slot: str | None
    implement: str
    count: int
    sets: int
    targets: Targets
    load: Load
    rest_s: int | None
    changed: str


@dataclass(slots=True)
class SessionEntry:
    row: int
    week: int
    label: str
    weekday: int
    exercises: list[ExerciseEntry] = field(default_factory=list)

    @property
    def key(self) -> SessionKey:
        return session_key(self.week, self.label, self.weekday)


@dataclass(slots=True)
class BlockEntry:
    row: int
    client: Client
    label: str
    starts_on: date
    sessions: dict[SessionKey, SessionEntry] = field(default_factory=dict)

    @property
    def identity(self) -> tuple[int, str]:
        return self.client.pk, fold(self.label)

    @property
    def weeks(self) -> int:
        return max(session.week for session in self.sessions.values())

    def day_of(self, session: SessionEntry) -> date:
        return self.starts_on + timedelta(weeks=session.week - 1, days=session.weekday)


def session_key(week: int, label: str, weekday: int) -> SessionKey:
    return week, fold(label), None if fold(label) else weekday


def read_block_entries(table: Table, faults: Faults, clients: Mapping[str, Client]) -> list[BlockEntry]:
    """The blocks of a file; `clients` by their folded keys."""
    reader = _RowReader(table, faults, clients)
    for row in table.rows:
        reader.read(row)
    return list(reader.blocks.values())


class _RowReader:
    def __init__(self, table: Table, faults: Faults, clients: Mapping[str, Client]) -> None:
        self.faults = faults
        self.blocks: dict[tuple[int, str], BlockEntry] = {}
        reader = CellReader(table, faults)
        self.client = reader.column("client", known_client(clients, LONGEST_LABEL))
        self.block = reader.column("block", required(text(LONGEST_LABEL)))
        self.starts_on = reader.date_column("starts_on", is_required=True)
        self.week = reader.column("week", required(whole_number(1, MOST_WEEKS)))
        self.weekday = reader.column("day", required(one_of(DAYS)))
        self.session = reader.column("session", text(LONGEST_LABEL))
        self.slot = reader.column("slot", one_of({slot.value: slot.value for slot in Slot}))
        self.exercise = reader.column("exercise", required(text(LONGEST_EXERCISE)))
        self.implement = reader.column("implement", text(LONGEST_IMPLEMENT))
        self.count = reader.column("count", whole_number(1, 2))
        self.sets = reader.column("sets", required(whole_number(1, MOST_SETS)))
        self.targets = reader.column("reps", required(parse_targets))
        self.load = reader.column("load", parse_load)
        self.unit = reader.column("unit", one_of({unit.value: unit.value for unit in MassUnit}))
        self.rest_s = reader.column("rest_s", whole_number(0, LONGEST_REST_S))
        self.changed = reader.column("changed", one_of({changed.value: changed.value for changed in Changed}))

    def read(self, row: Row) -> None:
        client = self.client(row)
        block_label, starts_on = self.block(row), self._monday(row)
        week, weekday, session_label = self.week(row), self.weekday(row), self.session(row) or ""
        exercise = self._exercise(row, client)
        if client is None or not block_label or starts_on is None or week is None or weekday is None:
            return
        block = self._block(row, client, block_label, starts_on)
        session = self._session(row, block, SessionEntry(row.number, week, session_label, weekday))
        if exercise:
            session.exercises.append(exercise)

    def _monday(self, row: Row) -> date | None:
        starts_on = self.starts_on(row)
        if starts_on and starts_on.weekday() != 0:
            self.faults.add(row.number, "starts_on", starts_on, "is no Monday")
            return None
        return starts_on

    def _block(self, row: Row, client: Client, label: str, starts_on: date) -> BlockEntry:
        block = self.blocks.setdefault((client.pk, fold(label)), BlockEntry(row.number, client, label, starts_on))
        if block.starts_on != starts_on:
            reason = f"is a second start of block “{label}”, which starts on {block.starts_on} in row {block.row}"
            self.faults.add(row.number, "starts_on", starts_on, reason)
        return block

    def _session(self, row: Row, block: BlockEntry, entry: SessionEntry) -> SessionEntry:
        session = block.sessions.setdefault(entry.key, entry)
        if session.weekday != entry.weekday:
            day, earlier = list(DAYS)[entry.weekday], list(DAYS)[session.weekday]
            reason = f"is a second day of session “{entry.label}” of week {entry.week}, {earlier} in row {session.row}"
            self.faults.add(row.number, "day", day, reason)
        return session

    def _exercise(self, row: Row, client: Client | None) -> ExerciseEntry | None:
        name, sets, targets, load = self.exercise(row), self.sets(row), self.targets(row), self.load(row)
        slot, implement, count, unit = self.slot(row), self.implement(row), self.count(row), self.unit(row)
        rest_s, changed = self.rest_s(row), self.changed(row)
        if sets and targets and len(targets.counts) not in (1, sets):
            self.faults.add(row.number, "reps", targets, f"has not one target for each of {sets} sets")
        if not name or sets is None or targets is None:
            return None
        meant_unit = unit or (client.unit if client else MassUnit.KILOGRAM.value)
        return ExerciseEntry(
            row=row.number,
            exercise=name,
            slot=slot,
            implement=implement or "",
            count=count or 1,
            sets=sets,
            targets=targets,
            load=(load or BODY_WEIGHT).in_unit(meant_unit),
            rest_s=rest_s,
            changed=changed or Changed.NONE.value,
        )
