"""Exported tables run nothing in a spreadsheet, and are read back as they were (ASVS 5.0 1.2.10)."""

from __future__ import annotations

import csv
import io
from datetime import date
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import xlsxwriter
from hypothesis import given, settings
from hypothesis import strategies as st

from coaching.monitoring.export_formats import to_csv
from roster.tables.headers import Columns
from roster.tables.parsing import parse_file
from roster.tables.reading import read_table

COLUMNS = ["client", "session", "week", "share", "day"]
ROWS_AN_EXAMPLE, EXAMPLES = 50, 100
SIGNS = "=+-@＝＋－＠﹦﹢﹣﹫−"
# As the record holds text: without blanks at its ends, without NUL.
letters = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=8).map(str.strip)
texts = letters | st.builds(lambda lead, sign, rest: lead + sign + rest, st.sampled_from(["", "'", "''", "\u200b"]),
                            st.sampled_from(SIGNS), letters)  # fmt: skip
rows_of_exports = st.fixed_dictionaries({
    "client": texts.filter(bool), "session": texts, "week": st.integers(-99, 99),
    "share": st.none() | st.floats(allow_nan=False, allow_infinity=False),
    "day": st.none() | st.dates(),
})  # fmt: skip


def _said(value: Any) -> str:
    if value is None:
        return ""
    return value.isoformat() if isinstance(value, date) else str(value)


@settings(max_examples=EXAMPLES, deadline=None)
@given(st.lists(rows_of_exports, min_size=ROWS_AN_EXAMPLE, max_size=ROWS_AN_EXAMPLE))
def test_five_thousand_rows_are_read_back_as_they_were(tmp_path_factory, rows: list[dict[str, Any]]):
    path = tmp_path_factory.mktemp("export") / "rows.csv"
    path.write_bytes(to_csv(COLUMNS, rows).encode())

    table = read_table(path, Columns(tuple(COLUMNS), ("client",)), parse=parse_file)

    assert not table.faults
    assert [row.cells for row in table.rows] == [tuple(_said(row[name]) for name in COLUMNS) for row in rows]


@settings(max_examples=EXAMPLES, deadline=None)
@given(st.lists(rows_of_exports, min_size=1, max_size=10))
def test_no_cell_of_text_begins_like_a_formula_and_numbers_stay_numbers(rows: list[dict[str, Any]]):
    cells = list(csv.DictReader(io.StringIO(to_csv(COLUMNS, rows), newline="")))

    for row, written in zip(rows, cells, strict=True):
        assert not any(written[name].lstrip(" \u200b")[:1] in set(SIGNS) for name in ("client", "session"))
        assert int(written["week"]) == row["week"]
        assert row["share"] is None or float(written["share"]) == row["share"]


@pytest.mark.parametrize("text", ["=1+1", "=cmd|' /C calc'!A0", "+1", "-1", "@SUM(A1)"])
def test_a_spreadsheet_library_that_makes_formulas_of_text_makes_none_of_ours(tmp_path: Path, text: str):
    [[cell]] = list(csv.reader(io.StringIO(to_csv(["a"], [{"a": text}]), newline="")))[1:]

    assert _types(tmp_path / "ours.xlsx", cell) == ["s"]
    # What the library does with such a text, were it left bare.
    assert _types(tmp_path / "bare.xlsx", "=1+1") == ["f"]


def _types(path: Path, *cells: str) -> list[str]:
    with xlsxwriter.Workbook(path, {"strings_to_formulas": True}) as book:
        book.add_worksheet().write_row(0, 0, cells)
    return [cell.data_type for row in openpyxl.load_workbook(path).active.iter_rows() for cell in row]
