"""Small files for tests."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import xlsxwriter

Value = str | int | float | bool | date | None


def write_workbook(path: Path, rows: Sequence[Sequence[Value]], *, date_1904: bool = False) -> Path:
    """A workbook of one sheet, with each value in a cell of its own type."""
    options = {"date_1904": date_1904, "strings_to_formulas": False, "strings_to_urls": False}
    with xlsxwriter.Workbook(path, options) as book:
        sheet = book.add_worksheet()
        date_format = book.add_format({"num_format": "yyyy-mm-dd"})
        for row, values in enumerate(rows):
            for column, value in enumerate(values):
                if isinstance(value, date):
                    sheet.write_datetime(row, column, value, date_format)
                elif value is not None:
                    sheet.write(row, column, value)
    return path


def write_csv(path: Path, text: str, encoding: str = "utf-8") -> Path:
    path.write_bytes(text.encode(encoding))
    return path
