"""The rows of a file under review as a page shows them: good and bad side by side, the faults beside their cells.

A fault that speaks of another row as well is shown at both.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from django.core.paginator import Page, Paginator

from coaching.loads import kept_lines
from coaching.loads.models import FileInReview
from coaching.loads.reviewing import faults_of
from roster.labels import fold
from roster.logs.log_rows import ABOUT_THE_SESSION
from roster.tables.faults import Fault
from roster.tables.table import Row, Table

ROWS_A_PAGE = 50
ROWS_AROUND = 1
OTHER_ROW = re.compile(r"\brow (\d+)\b")
# Rows that are equal in these are one session log.
OF_A_SESSION = ("client", "performed_on", "block", "week", "session", "submission")


@dataclass
class ShownCell:
    column: str
    text: str
    # What stood there when the file came; the same as `text` unless it was mended.
    came: str
    faults: list[Fault] = field(default_factory=list)
    has_input: bool = False
    # Columns in which nothing stands on a page take no room on it.
    is_shown: bool = True

    @property
    def is_mended(self) -> bool:
        return self.text != self.came


@dataclass
class ShownRow:
    number: int
    cells: list[ShownCell]
    # Of cells that the file has no column for, or of the row as a whole.
    faults: list[Fault]
    # What is said of this row at another.
    said_elsewhere: list[Fault]
    is_left_out: bool
    # Of a session of several rows: what leaving this one out means.
    session: str = ""

    @property
    def faulty_cells(self) -> list[ShownCell]:
        return [cell for cell in self.cells if cell.faults]

    @property
    def has_faults(self) -> bool:
        return bool(self.faults or self.faulty_cells)

    @property
    def is_mended(self) -> bool:
        return any(cell.is_mended for cell in self.cells)

    @property
    def needs_more_room(self) -> bool:
        """Whether there is anything to say or do beneath the row."""
        return self.is_left_out or bool(self.said_elsewhere) or self.has_faults or self.is_mended

    @property
    def called(self) -> str:
        """The row by name, such as "row 14, bo, 2026-04-14"."""
        return ", ".join([f"row {self.number}", *[cell.text for cell in self.cells if cell.text][:3]])


@dataclass
class Rows:
    columns: list[str]
    # Of numbers of rows.
    page: Page[int]
    shown: list[ShownRow]
    total: int
    # About no row but the file.
    faults: list[Fault]


def rows_of(file: FileInReview, which: str, page: str | None, editing: int | None = None) -> Rows:
    """`which` is "faults", with the rows around each, "changed" or "all"."""
    return _Reviewed(file, editing).rows(which, page)


class _Reviewed:
    def __init__(self, file: FileInReview, editing: int | None) -> None:
        self.file = file
        self.editing = editing
        self.table = kept_lines.table_as_it_came(file)
        self.came = {row.number: row for row in self.table.rows}
        self.now = {row.number: row for row in kept_lines.mended(self.table, file.mends).rows}
        self.left_out = set(file.left_out)
        self.faults: dict[int | None, list[Fault]] = defaultdict(list)
        for fault in faults_of(file):
            self.faults[fault.row].append(fault)
        self.elsewhere = _said_elsewhere(self.faults)
        beside_the_table = {fault.row for fault in self.table.faults if fault.row is not None}
        self.numbers = sorted(self.came.keys() | beside_the_table)
        self.sessions = _session_sizes(self.now.values(), self.table) if file.kind == "logs" else Counter()

    def rows(self, which: str, page: str | None) -> Rows:
        pages = Paginator(self._wanted(which), ROWS_A_PAGE)
        chosen = pages.get_page(page)
        shown = [self._row(number) for number in chosen.object_list]
        return Rows(_columns_in_use(shown), chosen, shown, len(self.numbers), self.faults[None])

    def _wanted(self, which: str) -> list[int]:
        if which == "all":
            return self.numbers
        if which == "changed":
            changed = self.left_out | {int(number) for number in self.file.mends}
            return [number for number in self.numbers if number in changed]
        return self._with_rows_around({*self.faults, *self.elsewhere})

    def _with_rows_around(self, meant: set[int | None]) -> list[int]:
        places = [place for place, number in enumerate(self.numbers) if number in meant]
        near = {near for place in places for near in range(place - ROWS_AROUND, place + ROWS_AROUND + 1)}
        return [self.numbers[place] for place in sorted(near) if 0 <= place < len(self.numbers)]

    def _row(self, number: int) -> ShownRow:
        is_left_out = number in self.left_out
        faults = self.faults.get(number, [])
        of_cells = [fault for fault in faults if fault.column in self.table and number in self.now]
        return ShownRow(
            number=number,
            cells=self._cells(number, of_cells, is_left_out),
            faults=[fault for fault in faults if fault not in of_cells],
            said_elsewhere=self.elsewhere.get(number, []),
            is_left_out=is_left_out,
            session=self._session(number),
        )

    def _cells(self, number: int, faults: list[Fault], is_left_out: bool) -> list[ShownCell]:
        if number not in self.now:
            return []
        now, came = self.now[number], self.came[number]
        return [
            self._cell(column, str(now.cells[place]), str(came.cells[place]), number, faults, is_left_out)
            for column, place in self.table.columns.items()
        ]

    def _cell(
        self, column: str, text: str, came: str, number: int, faults: list[Fault], is_left_out: bool
    ) -> ShownCell:
        of_cell = [fault for fault in faults if fault.column == column]
        has_input = not is_left_out and (bool(of_cell) or text != came or number == self.editing)
        return ShownCell(column, text, came, of_cell, has_input)

    def _session(self, number: int) -> str:
        row = self.now.get(number)
        if row is None or self.file.kind != "logs":
            return ""
        others = self.sessions[_session_key(row, self.table)] - 1
        if not others:
            return ""
        rows = "its other row" if others == 1 else f"its other {others} rows"
        told = [f"{name} {text}" for name, text in self.table.filled_cells(row).items() if name in ABOUT_THE_SESSION]
        lost = f", and without what this row tells of it: {', '.join(told)}" if told else ""
        return f"a file holds whole sessions: this one is recorded from {rows} alone{lost}"


def _columns_in_use(rows: list[ShownRow]) -> list[str]:
    cells = [cell for row in rows for cell in row.cells]
    used = {cell.column for cell in cells if cell.text or cell.came or cell.faults}
    for cell in cells:
        cell.is_shown = cell.column in used
    return list(dict.fromkeys(cell.column for cell in cells if cell.is_shown))


def _said_elsewhere(faults: dict[int | None, list[Fault]]) -> dict[int, list[Fault]]:
    found: dict[int, list[Fault]] = defaultdict(list)
    for fault in [fault for of_row in faults.values() for fault in of_row]:
        for number in {int(digits) for digits in OTHER_ROW.findall(fault.reason)} - {fault.row}:
            found[number].append(fault)
    return found


def _session_sizes(rows: Iterable[Row], table: Table) -> Counter[tuple[str, ...]]:
    return Counter(_session_key(row, table) for row in rows)


def _session_key(row: Row, table: Table) -> tuple[str, ...]:
    return tuple(fold(str(row.cells[table.columns[name]])) for name in OF_A_SESSION if name in table)
