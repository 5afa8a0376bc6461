"""XLSX workbooks: the first visible sheet, each cell as text or as a date.

Read in a child process only (see `reading`): a workbook is an archive, and an archive from outside can be made to
unpack into anything.
"""

from __future__ import annotations

import re
import warnings
import zipfile
from collections.abc import Iterator
from contextlib import closing
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

import openpyxl
from openpyxl.worksheet.formula import ArrayFormula, DataTableFormula

from roster.tables.faults import FileRefused
from roster.tables.limits import MEGABYTE, Limits

ERROR_VALUES = frozenset({"#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A"})
# A spreadsheet shows fifteen digits; the sixteenth and seventeenth are noise of binary fractions.
DIGITS_SHOWN = ".15g"
MOST_SHEET_ROWS = 1_048_576
FORMULA_TAG = re.compile(rb"<(?:\w{1,20}:)?f[ >/]")
LONGEST_TAG = 24
CHUNK_BYTES = 1 << 20


class Workbook:
    """A workbook that is open for reading."""

    def __init__(self, path: Path, limits: Limits) -> None:
        self.path = path
        self.has_formulas = _look_through_archive(path, limits)
        self.sheet_name, self.other_sheets = self._choose_sheet()

    def rows(self) -> Iterator[tuple[int, list[str | date]]]:
        """Every row that has a cell, with its number in the sheet."""
        for number, values in self._numbered_values():
            cells = [_as_cell(value, number) for value in values]
            if any(cell != "" for cell in cells):
                yield number, cells

    def _choose_sheet(self) -> tuple[str, list[str]]:
        with closing(_open(self.path, data_only=True)) as book:
            names = [sheet.title for sheet in book.worksheets if sheet.sheet_state == "visible"]
        if not names:
            raise FileRefused("has no sheet with cells")
        return names[0], names[1:]

    def _numbered_values(self) -> Iterator[tuple[int, tuple[Any, ...]]]:
        values = _values_of(self.path, self.sheet_name, data_only=True)
        if self.has_formulas:
            written = _values_of(self.path, self.sheet_name, data_only=False)
            values = (
                _calculated(pair, number) for number, pair in enumerate(zip(values, written, strict=True), start=1)
            )
        for number, row in enumerate(values, start=1):
            if number > MOST_SHEET_ROWS:
                raise FileRefused(f"has rows beyond {MOST_SHEET_ROWS:,}, where a sheet ends")
            yield number, row


def _look_through_archive(path: Path, limits: Limits) -> bool:
    """Refuse an archive that unpacks into too much, by what comes out of it; tell whether a sheet holds formulas."""
    has_formulas = False
    unpacked_bytes = 0
    with zipfile.ZipFile(path) as archive:
        members = archive.infolist()
        if len(members) > limits.workbook_members:
            raise FileRefused(f"has {len(members)} members in its archive; at most {limits.workbook_members} are read")
        for member in members:
            is_sheet = member.filename.startswith("xl/worksheets/")
            seam = b""
            for chunk in _chunks_of(archive, member):
                unpacked_bytes += len(chunk)
                if unpacked_bytes > limits.unpacked_bytes:
                    raise FileRefused(f"unpacks into more than {limits.unpacked_bytes // MEGABYTE} MB")
                has_formulas |= is_sheet and FORMULA_TAG.search(seam + chunk) is not None
                seam = chunk[-LONGEST_TAG:]
    return has_formulas


def _chunks_of(archive: zipfile.ZipFile, member: zipfile.ZipInfo) -> Iterator[bytes]:
    with archive.open(member) as file:
        yield from iter(lambda: file.read(CHUNK_BYTES), b"")


def _open(path: Path, *, data_only: bool) -> openpyxl.Workbook:
    with warnings.catch_warnings():
        # Of styles and extensions that don't matter to a table.
        warnings.simplefilter("ignore")
        return openpyxl.load_workbook(path, read_only=True, data_only=data_only, keep_links=False)


def _values_of(path: Path, sheet_name: str, *, data_only: bool) -> Iterator[tuple[Any, ...]]:
    with closing(_open(path, data_only=data_only)) as book, warnings.catch_warnings():
        warnings.simplefilter("ignore")
        sheet = book[sheet_name]
        # What a file says of its own size may be wrong, and rows beyond it would be dropped unsaid.
        sheet.reset_dimensions()
        yield from sheet.iter_rows(values_only=True)


def _calculated(pair: tuple[tuple[Any, ...], tuple[Any, ...]], number: int) -> tuple[Any, ...]:
    values, written = pair
    for value, formula in zip(values, written, strict=True):
        is_formula = isinstance(formula, (str, ArrayFormula, DataTableFormula))
        if value is None and is_formula:
            reason = "holds a formula without its result: open the file in a spreadsheet program and save it again"
            raise FileRefused(reason, row=number, value=formula if isinstance(formula, str) else "")
    return values


def _as_cell(value: Any, row: int) -> str | date:
    match value:
        case None:
            return ""
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
    return _as_text(str(value), row)


def _as_text(value: str, row: int) -> str:
    if value in ERROR_VALUES:
        raise FileRefused("is an error of the spreadsheet, no value", row=row, value=value)
    if "\0" in value:
        raise FileRefused("holds a NUL character", row=row, value=value)
    return value.strip()
