"""Reading a file into a table of known columns."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from pathlib import Path
from typing import Any

from roster.tables.child import lines_from_child
from roster.tables.faults import FileRefused
from roster.tables.headers import Columns, Header, match_header
from roster.tables.limits import COMMAND_LIMITS, MEGABYTE, Limits
from roster.tables.table import Cell, Row, Table

# Called with what is being done, and how much of it is.
Progress = Callable[[str, int], None]
# Takes a file apart, in a child of ours unless the file is one's own.
Parse = Callable[[Path, Limits], Iterable[dict[str, Any]]]
MOST_CELLS_SHARED = 200_000


def read_table(
    path: Path,
    columns: Columns,
    limits: Limits = COMMAND_LIMITS,
    progress: Progress | None = None,
    parse: Parse = lines_from_child,
) -> Table:
    """The rows of `path` under the known columns of its header; refuses a file that is no such table."""
    _refuse_unreadable(path, limits)
    builder = _TableBuilder(columns)
    for line in parse(path, limits):
        _take(line, builder)
        if progress:
            progress("rows read", len(builder.rows))
    return builder.table()


def _refuse_unreadable(path: Path, limits: Limits) -> None:
    try:
        with path.open("rb") as file:
            is_empty = not file.read(1)
        size = path.stat().st_size
    except OSError as error:
        raise FileRefused(f"can't be opened: {error.strerror}") from None
    if is_empty:
        raise FileRefused("is empty")
    if size > limits.file_bytes:
        raise FileRefused(f"is larger than {limits.file_bytes // MEGABYTE} MB")


def _take(line: dict[str, Any], builder: _TableBuilder) -> None:
    if "refused" in line:
        reason, row, value = line["refused"]
        raise FileRefused(reason, row=row, value=value)
    if "sheet" in line:
        builder.note_sheet(line["sheet"], line["other_sheets"])
    for number, cells in line.get("rows", ()):
        builder.add(number, cells)


class _TableBuilder:
    def __init__(self, columns: Columns) -> None:
        self.columns = columns
        self.header: Header | None = None
        self.rows: list[Row] = []
        self.messages: list[str] = []
        # Cells repeat: one object each keeps a million rows small.
        self.shared: dict[str, str] = {}

    def note_sheet(self, name: str, other_sheets: list[str]) -> None:
        self.is_workbook = True
        if other_sheets:
            others = ", ".join(f"“{other}”" for other in other_sheets)
            self.messages.append(f"the sheet “{name}” is read, and not {others}")

    is_workbook = False

    def add(self, number: int, coded: list[str | list[str]]) -> None:
        cells = [self._decoded(cell) for cell in coded]
        if not any(cell != "" for cell in cells):
            return
        if self.header is None:
            self._take_header(number, cells)
            return
        self._refuse_other_width(number, cells, self.header)
        self.rows.append(Row(number, tuple(_at(cells, place) for place in self.header.places.values())))

    def table(self) -> Table:
        if self.header is None:
            raise FileRefused("is empty")
        if not self.rows:
            raise FileRefused("has a header and no rows")
        return Table({name: position for position, name in enumerate(self.header.places)}, self.rows, self.messages)

    def _take_header(self, number: int, cells: list[Cell]) -> None:
        self.header = match_header([str(cell) for cell in cells], self.columns, number)
        self.messages.extend(self.header.messages)

    def _refuse_other_width(self, number: int, cells: list[Cell], header: Header) -> None:
        """Cells beside the header's, or a record that is cut off, mean that cells stand in the wrong columns."""
        if any(cell != "" for cell in cells[header.width :]):
            reason = f"has cells beyond the header's {header.width}; a cell with a separator in it needs quotes"
            raise FileRefused(reason, row=number, value=str(next(cell for cell in cells[header.width :] if cell != "")))
        if not self.is_workbook and len(cells) < header.width:
            raise FileRefused(f"has {len(cells)} cells under a header of {header.width}", row=number)

    def _decoded(self, cell: str | list[str]) -> Cell:
        if isinstance(cell, list):
            return date.fromisoformat(cell[0])
        if len(self.shared) < MOST_CELLS_SHARED:
            return self.shared.setdefault(cell, cell)
        return self.shared.get(cell, cell)


def _at(cells: list[Cell], place: int) -> Cell:
    return cells[place] if place < len(cells) else ""
