"""XLSX workbooks: the first visible sheet, each cell as text or as a date.

Read in a child process only (see `reading`): a workbook is an archive, and an archive from outside can be made to
unpack into anything.
"""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from typing import Any, BinaryIO

from openpyxl.reader.excel import ExcelReader
from openpyxl.styles.stylesheet import apply_stylesheet

from roster.tables.archives import look_through_archive
from roster.tables.cells import Cell, UnreadableCell
from roster.tables.faults import FileRefused
from roster.tables.limits import Limits
from roster.tables.places import lettered_column
from roster.tables.sheets import Filled, SheetParser

ERROR_VALUES = frozenset({"#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A"})
# A spreadsheet shows fifteen digits; the sixteenth and seventeenth are noise of binary fractions.
DIGITS_SHOWN = ".15g"
TYPE_OF_A_SHEET_WITH_ROWS = "/worksheet"


class _Reader(ExcelReader):
    """As much of a workbook as its cells need: no properties, themes, names, charts or links to other files."""

    def read(self) -> None:
        self.read_manifest()
        self.read_strings()
        self.read_workbook()
        apply_stylesheet(self.archive, self.wb)

    def visible_sheets(self) -> Iterator[tuple[str, str]]:
        """The names of sheets with rows, and where their markup is."""
        for sheet, found in self.parser.find_sheets():
            if sheet.state == "visible" and found.Type.endswith(TYPE_OF_A_SHEET_WITH_ROWS):
                yield sheet.name, found.target


class Workbook:
    """A workbook that is open for reading."""

    def __init__(self, file: BinaryIO, limits: Limits) -> None:
        look_through_archive(file, limits)
        self.limits = limits
        with warnings.catch_warnings():
            # Of styles and extensions that don't matter to a table.
            warnings.simplefilter("ignore")
            self.reader = _Reader(file, read_only=True, data_only=True, keep_links=False)
            self.reader.read()
            sheets = list(self.reader.visible_sheets())
        if not sheets:
            raise FileRefused("has no sheet with cells")
        if len(sheets) > limits.workbook_members:
            raise FileRefused(f"has {len(sheets):,} sheets; at most {limits.workbook_members} are read")
        (self.sheet_name, self.place), *others = sheets
        self.other_sheets = [name for name, _ in others]

    def rows(self) -> Iterator[tuple[int, list[Cell]]]:
        """Every row that has a cell, with its number in the sheet."""
        reader = self.reader
        with reader.archive.open(self.place) as source, warnings.catch_warnings():
            warnings.simplefilter("ignore")
            for number, filled in SheetParser(source, reader.wb, reader.shared_strings).filled_rows():
                if cells := self._cells(number, filled):
                    yield number, cells

    def _cells(self, number: int, filled: list[Filled]) -> list[Cell]:
        cells: list[Cell] = []
        for place, value in filled:
            cell = _as_cell(value, self.limits.cell_characters)
            if cell == "":
                continue
            if place >= self.limits.columns:
                reason = f"has more than {self.limits.columns} columns"
                raise FileRefused(reason, row=number, column=lettered_column(place))
            cells += [""] * (place - len(cells))
            cells.append(cell)
        return cells


def _as_cell(value: Any, longest: int) -> Cell:
    match value:
        case UnreadableCell():
            return value
        case bool():
            return "yes" if value else "no"
        case int():
            return str(value)
        case float():
            return str(int(value)) if value.is_integer() and abs(value) < 1e15 else format(value, DIGITS_SHOWN)
        case datetime():
            return value.date() if value.time() == time() else value.isoformat(sep=" ")
        case date():
            return value
        case time() | timedelta():
            return str(value)
    return _as_text(str(value), longest)


def _as_text(value: str, longest: int) -> Cell:
    if value in ERROR_VALUES:
        return UnreadableCell(value, "is an error of the spreadsheet, no value")
    if "\0" in value:
        return UnreadableCell(value, "holds a NUL character")
    if len(value) > longest:
        return UnreadableCell(value, f"is longer than {longest:,} characters")
    return value.strip()
