"""A table as it was read: rows with their numbers, cells by the name of their column."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import date
from typing import NamedTuple, TypeVar

from roster.tables.cells import Cell, CellRefused, Parser, UnreadableCell, required
from roster.tables.dates import date_parser
from roster.tables.faults import Faults

T = TypeVar("T")
MOST_CELLS_REMEMBERED = 50_000


class Row(NamedTuple):
    number: int
    # In the order of the table's columns; empty cells are empty strings.
    cells: tuple[Cell, ...]


@dataclass
class Table:
    """The known columns of a file that are there, and the rows below them."""

    columns: dict[str, int]
    rows: list[Row] = field(default_factory=list)
    # What the reader of the file should know, though nothing is wrong.
    messages: list[str] = field(default_factory=list)
    # Rows that can't be taken as they stand, which are not among the rows.
    faults: Faults = field(default_factory=Faults)

    def __contains__(self, column: str) -> bool:
        return column in self.columns

    def filled_cells(self, row: Row) -> dict[str, str]:
        """The row as it came, without its empty cells."""
        return {name: str(row.cells[position]) for name, position in self.columns.items() if row.cells[position] != ""}


class CellReader:
    """Reads the cells of a table, each column by its parser, and keeps what is wrong with them."""

    def __init__(self, table: Table, faults: Faults) -> None:
        self.table = table
        self.faults = faults
        faults.take_over(table.faults)

    def column(self, name: str, parse: Parser[T]) -> Callable[[Row], T | None]:
        """A function that reads the column in a row; None where the cell is empty or refused."""
        position = self.table.columns.get(name)
        if position is None:
            return lambda row: None
        return self._remembering(name, position, parse)

    def date_column(
        self, name: str, *, is_required: bool = False, also_proving: Iterable[str] = ()
    ) -> Callable[[Row], date | None]:
        """Dates; the order of day and month may be proved by the other columns of dates too."""
        parse = date_parser(cells_of(self.table, name, *also_proving))
        return self.column(name, required(parse) if is_required else parse)

    def _remembering(self, name: str, position: int, parse: Parser[T]) -> Callable[[Row], T | None]:
        remembered: dict[Cell, T | None] = {}

        def read(row: Row) -> T | None:
            cell = row.cells[position]
            if isinstance(cell, UnreadableCell):
                self.faults.add(row.number, name, cell, cell.reason)
                return None
            if cell in remembered:
                return remembered[cell]
            try:
                value = parse(cell)
            except CellRefused as refused:
                self.faults.add(row.number, name, cell, refused.reason)
                return None
            if len(remembered) < MOST_CELLS_REMEMBERED:
                remembered[cell] = value
            return value

        return read


def cells_of(table: Table, *names: str) -> set[Cell]:
    """The different cells of some columns, those that the file has."""
    positions = [table.columns[name] for name in names if name in table.columns]
    return {row.cells[position] for row in table.rows for position in positions}
