"""Putting a table together from what the child says of a file, line by line."""

from __future__ import annotations

from datetime import date
from typing import Any

from roster.tables.cells import Cell, UnreadableCell
from roster.tables.faults import UNREADABLE, Faults, FileRefused, shown
from roster.tables.headers import Columns, Header, match_header
from roster.tables.places import Sheet, column_letters, lettered_column
from roster.tables.table import Row, Table

MOST_CELLS_SHARED = 200_000


class TableBuilder:
    def __init__(self, columns: Columns) -> None:
        self.columns = columns
        self.header: Header | None = None
        self.names: list[str] = []
        self.sheet_name: str | None = None
        self.rows: list[Row] = []
        self.faults = Faults()
        self.messages: list[str] = []
        # Cells repeat: one object each keeps a million rows small.
        self.shared: dict[str, str] = {}

    def take(self, line: dict[str, Any]) -> None:
        """One line of the child, which is not believed: nonsense refuses the file."""
        try:
            self._take(line)
        except (AttributeError, LookupError, TypeError, ValueError):
            raise FileRefused(UNREADABLE) from None

    def table(self) -> Table:
        if self.header is None:
            raise FileRefused("is empty")
        if not self.rows and not self.faults:
            raise FileRefused("has a header and no rows")
        columns = {name: position for position, name in enumerate(self.header.places)}
        return Table(columns, self.rows, self.messages, self.faults)

    def _take(self, line: dict[str, Any]) -> None:
        if "refused" in line:
            reason, row, column, value = line["refused"]
            raise FileRefused(str(reason), row=row and int(row), column=column and str(column), value=str(value))
        if "sheet" in line:
            self._note_sheet(line["sheet"], line["other_sheets"])
        for number, cells in line.get("rows", ()):
            self._add(int(number), cells)

    def _note_sheet(self, name: str, other_sheets: list[str]) -> None:
        self.sheet_name = name
        if other_sheets:
            others = ", ".join(f"“{shown(other)}”" for other in other_sheets)
            self.messages.append(f"the sheet “{shown(name)}” is read, and not {others}")

    def _add(self, number: int, coded: list[str | list[str]]) -> None:
        cells = [self._decoded(cell) for cell in coded]
        if not any(cell != "" for cell in cells):
            return
        if self.header is None:
            self.header = self._header(number, cells)
        elif self._has_its_width(number, cells, self.header):
            self.rows.append(Row(number, tuple(_at(cells, place) for place in self.header.places.values())))

    def _header(self, number: int, cells: list[Cell]) -> Header:
        for place, cell in enumerate(cells):
            if isinstance(cell, UnreadableCell):
                raise FileRefused(cell.reason, row=number, column=lettered_column(place), value=cell)
        self.names = [str(cell) for cell in cells]
        header = match_header(self.names, self.columns, number)
        self.messages.extend(header.messages)
        if self.sheet_name is not None:
            letters = {name: column_letters(place) for name, place in header.places.items()}
            self.faults.sheet = Sheet(shown(self.sheet_name), letters)
        return header

    def _has_its_width(self, number: int, cells: list[Cell], header: Header) -> bool:
        """Cells beside the header's, or a record that is cut off, mean that cells stand in the wrong columns."""
        beyond = next((place for place in range(header.width, len(cells)) if cells[place] != ""), None)
        if beyond is not None:
            reason = f"has cells beyond the header's {header.width}; a cell with a separator in it needs quotes"
            self.faults.add(number, lettered_column(beyond), cells[beyond], reason)
            return False
        if self.sheet_name is None and len(cells) < header.width:
            column = shown(self.names[len(cells)]) or lettered_column(len(cells))
            self.faults.add(number, column, "", f"has {len(cells)} cells under a header of {header.width}")
            return False
        return True

    def _decoded(self, cell: str | list[str]) -> Cell:
        if type(cell) is not str:
            return _marked(cell)
        if len(self.shared) < MOST_CELLS_SHARED:
            return self.shared.setdefault(cell, cell)
        return self.shared.get(cell, cell)


def _marked(cell: str | list[str]) -> Cell:
    match cell:
        case [str() as day]:
            return date.fromisoformat(day)
        case [str() as shown, str() as reason]:
            return UnreadableCell(shown, reason)
    raise TypeError(type(cell))


def _at(cells: list[Cell], place: int) -> Cell:
    return cells[place] if place < len(cells) else ""
