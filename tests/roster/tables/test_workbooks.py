"""XLSX: typed cells become text and dates, and what can't be trusted is refused."""

from __future__ import annotations

import zipfile
from dataclasses import replace
from datetime import date, datetime, time
from io import BytesIO
from pathlib import Path

import pytest
import xlsxwriter

from roster.tables.cells import Cell, UnreadableCell
from roster.tables.faults import FileRefused
from roster.tables.limits import COMMAND_LIMITS
from roster.tables.sheets import NO_RESULT, NOT_WHAT_IT_SAYS
from roster.tables.workbooks import Workbook
from tests.roster.tables.files import write_workbook


def _rows(path: Path) -> list[tuple[int, list[str | date]]]:
    return list(_open(path).rows())


def reason_of(cell: Cell) -> str | None:
    return cell.reason if isinstance(cell, UnreadableCell) else None


def _open(path: Path, **limits: int) -> Workbook:
    return Workbook(BytesIO(path.read_bytes()), replace(COMMAND_LIMITS, **limits))


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

    book = _open(path)

    assert (book.sheet_name, book.other_sheets) == ("Logs", ["Plan"])


def test_a_formula_counts_as_its_result(tmp_path: Path):
    path = tmp_path / "any.xlsx"
    with xlsxwriter.Workbook(path) as book:
        book.add_worksheet().write_formula(0, 0, "=B1+2", None, 22.5)

    assert _rows(path) == [(1, ["22.5"])]


def test_each_formula_without_its_result_is_told_and_not_read_as_empty(tmp_path: Path):
    path = tmp_path / "any.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet()
        sheet.write_row(0, 0, ["load", "reps"])
        sheet.write_formula(1, 0, "=B2+2", None, "")
        sheet.write_formula(1, 1, "=C2+2", None, 9)
        sheet.write_formula(2, 1, "=C3+2", None, "")

    _, (_, second), (_, third) = _rows(path)

    assert (second, third) == (["=B2+2", "9"], ["", "=C3+2"])
    assert [reason_of(cell) for cell in (second[0], third[1])] == [NO_RESULT, NO_RESULT]


def test_a_formula_whose_result_is_an_empty_text_is_an_empty_cell(tmp_path: Path):
    path = write_workbook(tmp_path / "any.xlsx", [["a", "b"], ["x", "y"]])
    empty_text = b'<c r="A2" t="str"><f>IF(B2="z",1,"")</f><v></v></c>'

    rows = _rows(_edited(path, b'<c r="A2" t="s"><v>2</v></c>', empty_text))

    assert rows[1] == (2, ["", "y"])


@pytest.mark.parametrize(
    ("markup", "cell", "reason"),
    [
        (b'<c r="A2" t="s"><v>99</v></c>', "99", NOT_WHAT_IT_SAYS),
        (b'<c r="A2" t="s"><v>-1</v></c>', "-1", NOT_WHAT_IT_SAYS),
        (b'<c r="A2"><v>NaN</v></c>', "NaN", NOT_WHAT_IT_SAYS),
        (b'<c r="A2"><v>12kg</v></c>', "12kg", NOT_WHAT_IT_SAYS),
        (b'<c r="A2" t="b"><v>7</v></c>', "7", NOT_WHAT_IT_SAYS),
        (b'<c r="A2" t="d"><v>soon</v></c>', "soon", NOT_WHAT_IT_SAYS),
        (b'<c r="A2" t="e"><v>#REF!</v></c>', "#REF!", "is an error of the spreadsheet, no value"),
    ],
)
def test_a_cell_that_is_not_what_it_says_it_is_can_not_be_read(tmp_path: Path, markup: bytes, cell: str, reason: str):
    path = write_workbook(tmp_path / "any.xlsx", [["a"], ["x"]])

    [_, (number, [read])] = _rows(_edited(path, b'<c r="A2" t="s"><v>1</v></c>', markup))

    assert (number, read, reason_of(read)) == (2, cell, reason)


@pytest.mark.parametrize(("number", "cell"), [(b"1e308", "1e+308"), (b"1e999", "inf"), (b"9" * 40, "9" * 40)])
def test_a_number_that_nobody_means_is_read_as_what_it_is(tmp_path: Path, number: bytes, cell: str):
    path = write_workbook(tmp_path / "any.xlsx", [["a"], [5]])

    assert _rows(_edited(path, b"<v>5</v>", b"<v>" + number + b"</v>"))[1] == (2, [cell])


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        (b'r="3"', b'r="2"', "is a damaged workbook: after row 2 of its sheet comes row 2"),
        (b'r="3"', b'r="1048577"', "is a damaged workbook: after row 2 of its sheet comes row 1048577"),
        (b'r="B2"', b'r="A2"', "row 2, column B: “A2” stands in the wrong place: the workbook is damaged"),
        (b'r="B2"', b'r="B3"', "row 2, column B: “B3” stands in the wrong place: the workbook is damaged"),
        (b'r="B2"', b'r="ZZZ2"', "row 2, column B: “ZZZ2” stands in the wrong place: the workbook is damaged"),
    ],
)
def test_rows_and_cells_out_of_their_order_refuse_the_workbook(tmp_path: Path, old: bytes, new: bytes, fault: str):
    path = write_workbook(tmp_path / "any.xlsx", [["a", "b"], ["x", "y"], ["z", "w"]])

    with pytest.raises(FileRefused) as refused:
        _rows(_edited(path, old, new))

    assert str(refused.value.fault) == fault


def test_of_merged_cells_the_first_holds_the_value(tmp_path: Path):
    path = tmp_path / "any.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet()
        sheet.merge_range("A1:A3", "ana")
        sheet.write_column("B1", ["x", "y", "z"])

    assert [cells for _, cells in _rows(path)] == [["ana", "x"], ["", "y"], ["", "z"]]


def test_a_text_beyond_the_longest_can_not_be_read(tmp_path: Path):
    path = write_workbook(tmp_path / "any.xlsx", [["a"], ["x" * 32_000]])

    [cell] = list(_open(path, cell_characters=31_999).rows())[1][1]

    assert reason_of(cell) == "is longer than 31,999 characters"
    assert _rows(path)[1] == (2, ["x" * 32_000])


def test_an_archive_is_refused_by_what_comes_out_of_it(tmp_path: Path):
    """ASVS 5.0 5.2.3"""
    path = write_workbook(tmp_path / "any.xlsx", [["a"], ["x" * 5000]])

    with pytest.raises(FileRefused, match="unpacks into more than"):
        _open(path, unpacked_bytes=5_000)


def test_an_archive_of_too_many_members_is_refused(tmp_path: Path):
    path = write_workbook(tmp_path / "any.xlsx", [["a"]])

    with pytest.raises(FileRefused, match="members in its archive; at most 3"):
        _open(path, workbook_members=3)


def _edited(path: Path, old: bytes, new: bytes) -> Path:
    """The workbook with its first sheet's markup changed."""
    edited = path.with_name("edited.xlsx")
    with zipfile.ZipFile(path) as before, zipfile.ZipFile(edited, "w") as after:
        for name in before.namelist():
            content = before.read(name)
            after.writestr(name, content.replace(old, new) if name.endswith("sheet1.xml") else content)
    return edited
