"""Rows of a file of logs, one a set, read cell by cell."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from uuid import UUID

from roster.blocks.block_rows import LONGEST_EXERCISE, LONGEST_LABEL, MOST_WEEKS
from roster.blocks.cells import BODY_WEIGHT, Load, Targets, parse_load, parse_reps_done
from roster.labels import fold
from roster.mass import MassUnit
from roster.people.client_cells import known_client
from roster.people.models import Client
from roster.tables.cells import (
    Cell,
    CellRefused,
    decimal_number,
    one_of,
    text,
    text_of,
    whole_number,
    yes_or_no,
)
from roster.tables.faults import Faults
from roster.tables.headers import Columns
from roster.tables.table import CellReader, Row, Table

COLUMNS = Columns(
    known=(
        "client", "performed_on", "block", "week", "session", "exercise", "set", "reps", "load", "unit", "rest_s",
        "warm_up", "minutes", "rpe", "pain", "pain_region", "note", "submission",
    ),
    required=("client", "performed_on"),
    # A file without them tells who trained on which day, and no more.
    detail=("exercise", "set", "reps", "load", "unit", "rest_s", "warm_up"),
    required_of_detail=("exercise", "reps"),
)  # fmt: skip
MOST_MINUTES = 9_999
MOST_SETS = 32_767
LONGEST_REST_S = 86_400
LONGEST_REGION = 80
LONGEST_NOTE = 100_000
ABOUT_THE_SESSION = ("minutes", "rpe", "pain", "pain_region", "note")
ABOUT_A_SET = ("set", "reps", "load", "rest_s")


@dataclass(slots=True)
class LogRow:
    """One row; None, or an empty text, where a cell is empty."""

    source: Row
    client: Client
    performed_on: date
    block: str
    week: int | None
    session: str
    submission: UUID | None
    exercise: str
    set_number: int | None
    reps: Targets | None
    load: Load
    rest_s: int | None
    is_warm_up: bool
    minutes: Decimal | None
    effort: Decimal | None
    pain: Decimal | None
    pain_region: str
    note: str

    @property
    def number(self) -> int:
        return self.source.number

    @property
    def group(self) -> tuple[int, date, str, int | None, str, UUID | None]:
        """Rows of one group are one session log."""
        return self.client.pk, self.performed_on, fold(self.block), self.week, fold(self.session), self.submission


class LogRowReader:
    def __init__(self, table: Table, faults: Faults, clients: Mapping[str, Client]) -> None:
        self.faults = faults
        reader = CellReader(table, faults)
        self.client = reader.column("client", known_client(clients, LONGEST_LABEL))
        self.performed_on = reader.date_column("performed_on", is_required=True)
        self.block = reader.column("block", text(LONGEST_LABEL))
        self.week = reader.column("week", whole_number(1, MOST_WEEKS))
        self.session = reader.column("session", text(LONGEST_LABEL))
        self.submission = reader.column("submission", _submission)
        self.exercise = reader.column("exercise", text(LONGEST_EXERCISE))
        self.set_number = reader.column("set", whole_number(1, MOST_SETS))
        self.reps = reader.column("reps", parse_reps_done)
        self.load = reader.column("load", parse_load)
        self.unit = reader.column("unit", one_of({unit.value: unit.value for unit in MassUnit}))
        self.rest_s = reader.column("rest_s", whole_number(0, LONGEST_REST_S))
        self.warm_up = reader.column("warm_up", yes_or_no)
        self.minutes = reader.column("minutes", decimal_number(0, MOST_MINUTES, 2, more_than_least=True))
        self.effort = reader.column("rpe", decimal_number(0, 10, 2))
        self.pain = reader.column("pain", decimal_number(0, 10, 2))
        self.pain_region = reader.column("pain_region", text(LONGEST_REGION))
        self.note = reader.column("note", text(LONGEST_NOTE))

    def read(self, row: Row) -> LogRow | None:
        """The row, or nothing when something in it is wrong."""
        faults_before = self.faults.total
        client = self.client(row)
        load, unit = self.load(row) or BODY_WEIGHT, self.unit(row)
        log_row = LogRow(
            source=row,
            client=client,  # type: ignore[arg-type]
            performed_on=self.performed_on(row),  # type: ignore[arg-type]
            block=self.block(row) or "",
            week=self.week(row),
            session=self.session(row) or "",
            submission=self.submission(row),
            exercise=self.exercise(row) or "",
            set_number=self.set_number(row),
            reps=self.reps(row),
            load=load.in_unit(unit or (client.unit if client else "")),
            rest_s=self.rest_s(row),
            is_warm_up=self.warm_up(row) or False,
            minutes=self.minutes(row),
            effort=self.effort(row),
            pain=self.pain(row),
            pain_region=self.pain_region(row) or "",
            note=self.note(row) or "",
        )
        return log_row if self.faults.total == faults_before else None


def _submission(cell: Cell) -> UUID | None:
    words = text_of(cell)
    try:
        return UUID(words) if words else None
    except ValueError:
        raise CellRefused("is no UUID") from None
