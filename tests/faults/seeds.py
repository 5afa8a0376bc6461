"""Good files of all three kinds, written in the ways in which people and programs write them."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from functools import cache

import openpyxl
import xlsxwriter

from tests.faults.archive_mutations import members_of, packed
from tests.rosters.generate import random_roster

KINDS = ("clients", "blocks", "logs")
DATES = ("joined_on", "starts_on", "performed_on")
NUMBERS = ("week", "count", "sets", "load", "rest_s", "minutes", "rpe", "pain", "set")
WRITTEN_AT = datetime(2026, 4, 15, 7)
Cells = list[list[str]]


@dataclass(frozen=True)
class Seed:
    kind: str
    style: str
    content: bytes

    @property
    def is_workbook(self) -> bool:
        return self.content.startswith(b"PK")


@cache
def rows_of(kind: str) -> Cells:
    """A header and the rows of a small roster."""
    roster = random_roster(23, clients=2, weeks=5, sessions_a_week=2, labels="mixed", unit="kg", sends="each")
    rows = [dict(row) for row in getattr(roster, kind)]
    return [list(rows[0]), *([str(row[name]) for name in rows[0]] for row in rows)]


@cache
def seeds() -> tuple[Seed, ...]:
    return tuple(Seed(kind, style, content) for kind in KINDS for style, content in _written(rows_of(kind)))


def _written(rows: Cells) -> Iterator[tuple[str, bytes]]:
    yield "comma", _text(rows).encode()
    yield "semicolon, CRLF, BOM", _text(rows, ";", "\r\n").encode("utf-8-sig")
    yield "tab, UTF-16", _text(rows, "\t", "\r\n").encode("utf-16")
    yield "all in quotes", _text(rows, quoting=csv.QUOTE_ALL).encode()
    yield "CR, UTF-16 big end", ("\ufeff" + _text(rows, line_end="\r")).encode("utf-16-be")
    yield "few columns, other order", _text([list(reversed(row)) for row in rows]).encode()
    yield "decimal comma", _text([[_with_comma(cell) for cell in row] for row in rows], ";").encode()
    yield "typed cells", _workbook(rows, typed=True)
    yield "text cells", _workbook(rows, typed=False)
    yield "since 1904", _workbook(rows, typed=True, date_1904=True)
    yield "inline strings", _workbook(rows, typed=True, constant_memory=True)
    yield "other sheets", _workbook(rows, typed=True, dress=_other_sheets)
    yield "dressed up", _workbook(rows, typed=True, dress=_dressed)
    yield "by another library", _by_another_library(rows)


def _with_comma(cell: str) -> str:
    return cell.replace(".", ",") if cell.replace(".", "", 1).isdigit() else cell


def _text(rows: Cells, separator: str = ",", line_end: str = "\n", quoting: int = csv.QUOTE_MINIMAL) -> str:
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=separator, lineterminator=line_end, quoting=quoting).writerows(rows)
    return out.getvalue()


def _workbook(
    rows: Cells, *, typed: bool, dress: Callable[[xlsxwriter.Workbook], None] = lambda book: None, **options: bool
) -> bytes:
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True, "strings_to_formulas": False, **options}) as book:
        sheet = book.add_worksheet("Rows")
        date_format = book.add_format({"num_format": "yyyy-mm-dd"})
        for number, row in enumerate(rows):
            for place, cell in enumerate(row):
                value = _typed(rows[0][place], cell) if typed and number else cell
                if isinstance(value, date):
                    sheet.write_datetime(number, place, value, date_format)
                elif value != "":
                    sheet.write(number, place, value)
        book.set_properties({"created": WRITTEN_AT})
        dress(book)
    return out.getvalue()


def _typed(column: str, cell: str) -> str | float | date:
    if column in DATES:
        return date.fromisoformat(cell)
    return float(cell) if column in NUMBERS and cell.replace(".", "", 1).isdigit() else cell


def _other_sheets(book: xlsxwriter.Workbook) -> None:
    book.add_worksheet("Notes").write(0, 0, "not for Muster")
    book.add_worksheet("Old").hide()


def _dressed(book: xlsxwriter.Workbook) -> None:
    [sheet] = book.worksheets()
    sheet.freeze_panes(1, 0)
    sheet.autofilter(0, 0, 5, 3)
    sheet.data_validation("C2:C9", {"validate": "integer", "criteria": ">", "value": 0})
    sheet.conditional_format("D2:D9", {"type": "2_color_scale"})
    sheet.write_comment("A1", "a remark")
    sheet.set_column("B:B", None, None, {"hidden": True})
    book.define_name("Kept", "=Rows!$A$1:$A$3")


def _by_another_library(rows: Cells) -> bytes:
    book = openpyxl.Workbook()
    for number, row in enumerate(rows):
        book.active.append([_typed(rows[0][place], cell) if number else cell for place, cell in enumerate(row)])
    out = io.BytesIO()
    book.save(out)
    # It notes when it wrote, and the same seed must be the same bytes at any time.
    at = WRITTEN_AT.isoformat().encode()
    return packed(
        [(name, re.sub(rb"20[0-9T:-]+Z", at + b"Z", content)) for name, content in members_of(out.getvalue())]
    )
