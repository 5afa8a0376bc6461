"""Rows of a file of clients, read and checked, nothing saved."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import TypeVar

from django.core.exceptions import ValidationError
from django.core.validators import validate_email

from roster.labels import fold
from roster.mass import MassUnit
from roster.people.kit import KitEntry, KitRefused, parse_kit
from roster.people.models import Client
from roster.people.zones import known_time_zones
from roster.tables.cells import Cell, CellRefused, Parser, one_of, required, text, text_of, whole_number
from roster.tables.dates import date_parser
from roster.tables.faults import Faults
from roster.tables.headers import Columns
from roster.tables.table import CellReader, Row, Table, cells_of

COLUMNS = Columns(
    known=(
        "client", "name", "email", "time_zone", "unit", "joined_on", "sends", "minutes", "kit", "pauses", "goal",
    ),
    required=("client", "joined_on"),
)  # fmt: skip
UNITS = {unit.value: unit.value for unit in MassUnit}
SENDS = {sends.value: sends.value for sends in Client.Sends}
MINUTES_A_DAY = 1440
LONGEST_KEY, LONGEST_NAME, LONGEST_EMAIL, LONGEST_CELL = 80, 120, 254, 100_000
PAUSE = re.compile(r"(\S+?)\s*\.\.\s*(\S+)")
T = TypeVar("T")
Days = tuple[date, date]


@dataclass(slots=True)
class ClientRow:
    """What one row says of one client; None where the file has no such column or the cell is empty."""

    number: int
    key: str
    joined_on: date | None
    name: str | None
    email: str | None
    time_zone: str | None
    unit: str | None
    sends: str | None
    minutes: int | None
    kit: tuple[KitEntry, ...] | None
    pauses: tuple[Days, ...] | None
    goal: str | None


def read_client_rows(table: Table, faults: Faults, unit_of: Callable[[str], str]) -> list[ClientRow]:
    """The rows, each key once; `unit_of` gives the unit of a client where the file has no such column."""
    reader = _RowReader(table, faults, unit_of)
    rows = [reader.read(row) for row in table.rows]
    return list(_once_each(rows, faults))


def _once_each(rows: list[ClientRow], faults: Faults) -> Iterator[ClientRow]:
    first_rows: dict[str, int] = {}
    for row in rows:
        first_row = first_rows.setdefault(fold(row.key), row.number)
        if row.key and first_row != row.number:
            faults.add(row.number, "client", row.key, f"is in row {first_row} already")
        elif row.key:
            yield row


class _RowReader:
    def __init__(self, table: Table, faults: Faults, unit_of: Callable[[str], str]) -> None:
        self.faults = faults
        self.unit_if_empty = (lambda key: MassUnit.KILOGRAM.value) if "unit" in table else unit_of
        reader = CellReader(table, faults)
        self.key = reader.column("client", required(text(LONGEST_KEY)))
        self.joined_on = reader.date_column("joined_on", is_required=True, also_proving=["pauses"])
        self.name = reader.column("name", text(LONGEST_NAME))
        self.email = reader.column("email", _email)
        self.time_zone = reader.column("time_zone", _time_zone)
        self.unit = reader.column("unit", one_of(UNITS))
        self.sends = reader.column("sends", one_of(SENDS))
        self.minutes = reader.column("minutes", whole_number(1, MINUTES_A_DAY))
        self.kit_words = reader.column("kit", text(LONGEST_CELL))
        self.pauses = reader.column("pauses", _pauses_parser(table))
        self.goal = reader.column("goal", text(LONGEST_CELL))

    def read(self, row: Row) -> ClientRow:
        key, unit = self.key(row) or "", self.unit(row)
        return ClientRow(
            number=row.number,
            key=key,
            joined_on=self.joined_on(row),
            name=self.name(row),
            email=self.email(row),
            time_zone=self.time_zone(row),
            unit=unit,
            sends=self.sends(row),
            minutes=self.minutes(row),
            kit=self._kit(row, unit or self.unit_if_empty(key)),
            pauses=self.pauses(row),
            goal=self.goal(row),
        )

    def _kit(self, row: Row, unit: str) -> tuple[KitEntry, ...] | None:
        words = self.kit_words(row)
        if words is None:
            return None
        try:
            return parse_kit(words, unit)
        except KitRefused as refused:
            self.faults.add(row.number, "kit", refused.word, refused.reason)
            return None


def _email(cell: Cell) -> str:
    address = text(LONGEST_EMAIL)(cell) or ""
    try:
        if address:
            validate_email(address)
    except ValidationError:
        raise CellRefused("is no e-mail address") from None
    return address


def _time_zone(cell: Cell) -> str | None:
    name = text_of(cell)
    if name and name not in known_time_zones():
        raise CellRefused("is no IANA time zone such as Europe/Lisbon")
    return name or None


def _pauses_parser(table: Table) -> Parser[tuple[Days, ...]]:
    """Pauses as 2026-02-02..2026-02-08, several between semicolons."""
    parse_date = date_parser(cells_of(table, "pauses", "joined_on"))

    def parse_pauses(cell: Cell) -> tuple[Days, ...]:
        parts = [part.strip() for part in text_of(cell).split(";")]
        return tuple(dict.fromkeys(_pause(part, parse_date) for part in parts if part))

    return parse_pauses


def _pause(words: str, parse_date: Parser[date]) -> Days:
    match = PAUSE.fullmatch(words)
    if not match:
        raise CellRefused(f"has a pause that is not written as 2026-02-02..2026-02-08: “{words}”")
    from_on, until_on = (_pause_day(day, parse_date) for day in match.groups())
    if until_on < from_on:
        raise CellRefused(f"has a pause that ends before it begins: “{words}”")
    return from_on, until_on


def _pause_day(words: str, parse_date: Parser[date]) -> date:
    try:
        day = parse_date(words)
    except CellRefused as refused:
        raise CellRefused(f"has a day, “{words}”, that {refused.reason}") from None
    assert day is not None
    return day
