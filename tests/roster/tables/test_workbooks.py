"""XLSX: typed cells become text and dates, and what can't be trusted is refused."""

from __future__ import annotations

import zipfile
from dataclasses import replace
from datetime import date, datetime, time
from pathlib import Path

import pytest
import xlsxwriter

from roster.tables.faults import FileRefused
from roster.tables.limits import COMMAND_LIMITS
from roster.tables.workbooks import Workbook
from tests.roster.tables.files import write_workbook


def _rows(path: Path) -> list[tuple[int, list[str | date]]]:
    return list(Workbook(path, COMMAND_LIMITS).rows())


@pytest.mark.parametrize(
    ("value", "cell"),
    [
        (101, "101"),
        (22.5, "22.5"),
        (3.0, "3"),
        (22.1 + 0.2, "22.3"),
        (" ana ", "ana"),
        (True, "yes"),
        (False, "no"),
        ("008", "008"),
        ("=1+1", "=1+1"),
    ],
)
def test_numbers_text_and_booleans_become_the_text_that_is_seen(tmp_path: Path, value: object, cell: str):
    path = write_workbook(tmp_path / "any.xlsx", [["a"], [value]])

    assert _rows(path)[1] == (2, [cell])


@pytest.mark.parametrize("date_1904", [False, True])
def test_a_date_cell_is_the_same_date_in_both_date_systems(tmp_path: Path, date_1904: bool):
    path = write_workbook(tmp_path / "any.xlsx", [["a"], [date(2026, 2, 28)]], date_1904=date_1904)

    assert _rows(path)[1] == (2, [date(2026, 2, 28)])


def test_a_date_with_a_time_of_day_is_no_plain_date(tmp_path: Path):
    path = tmp_path / "any.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet()
        moment = book.add_format({"num_format": "yyyy-mm-dd hh:mm"})
        sheet.write_datetime(0, 0, datetime(2026, 3, 2, 18, 30), moment)
        sheet.write_datetime(1, 0, time(0, 1, 30), book.add_format({"num_format": "hh:mm:ss"}))

    assert _rows(path) == [(1, ["2026-03-02 18:30:00"]), (2, ["00:01:30"])]


def test_rows_keep_the_numbers_of_the_sheet(tmp_path: Path):
    path = write_workbook(tmp_path / "any.xlsx", [["a"], [None], [None], ["x"]])

    assert [number for number, _ in _rows(path)] == [1, 4]


def test_rows_beyond_the_size_that_a_file_claims_are_read(tmp_path: Path):
    path = _edited(write_workbook(tmp_path / "any.xlsx", [["a"], ["x"], ["y"]]), b'ref="A1:A3"', b'ref="A1:A2"')

    assert _rows(path)[-1] == (3, ["y"])


def test_only_the_first_visible_sheet_is_read_and_the_others_are_named(tmp_path: Path):
    path = tmp_path / "any.xlsx"
    with xlsxwriter.Workbook(path) as book:
        hidden, logs, plan = (book.add_worksheet(name) for name in ("Old", "Logs", "Plan"))
        logs.activate()
        hidden.hide()
        logs.write(0, 0, "client")
        plan.write(0, 0, "x")

    book = Workbook(path, COMMAND_LIMITS)

    assert (book.sheet_name, book.other_sheets) == ("Logs", ["Plan"])


def test_a_formula_counts_as_its_result(tmp_path: Path):
    path = tmp_path / "any.xlsx"
    with xlsxwriter.Workbook(path) as book:
        book.add_worksheet().write_formula(0, 0, "=B1+2", None, 22.5)

    assert _rows(path) == [(1, ["22.5"])]


def test_a_formula_without_its_result_is_refused_and_not_read_as_empty(tmp_path: Path):
    path = tmp_path / "any.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet()
        sheet.write(0, 0, "load")
        sheet.write_formula(1, 0, "=B1+2", None, "")

    with pytest.raises(FileRefused, match="holds a formula without its result") as refused:
        _rows(path)

    assert (refused.value.fault.row, refused.value.fault.value) == (2, "=B1+2")


def test_an_error_of_the_spreadsheet_is_refused_with_its_row(tmp_path: Path):
    path = write_workbook(tmp_path / "any.xlsx", [["a"], ["#REF!"]])

    with pytest.raises(FileRefused, match="is an error of the spreadsheet") as refused:
        _rows(path)

    assert refused.value.fault.row == 2


def test_an_archive_is_refused_by_what_comes_out_of_it(tmp_path: Path):
    path = write_workbook(tmp_path / "any.xlsx", [["a"], ["x" * 5000]])

    with pytest.raises(FileRefused, match="unpacks into more than"):
        Workbook(path, replace(COMMAND_LIMITS, unpacked_bytes=5_000))


def test_an_archive_of_too_many_members_is_refused(tmp_path: Path):
    path = write_workbook(tmp_path / "any.xlsx", [["a"]])

    with pytest.raises(FileRefused, match="members in its archive; at most 3"):
        Workbook(path, replace(COMMAND_LIMITS, workbook_members=3))


def _edited(path: Path, old: bytes, new: bytes) -> Path:
    """The workbook with its first sheet's markup changed."""
    edited = path.with_name("edited.xlsx")
    with zipfile.ZipFile(path) as before, zipfile.ZipFile(edited, "w") as after:
        for name in before.namelist():
            content = before.read(name)
            after.writestr(name, content.replace(old, new) if name.endswith("sheet1.xml") else content)
    return edited
