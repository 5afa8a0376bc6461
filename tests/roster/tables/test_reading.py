"""A file becomes a table of known columns, or is refused as a whole."""

from __future__ import annotations

import os
import zipfile
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from roster.tables.faults import FileRefused
from roster.tables.headers import Columns
from roster.tables.limits import COMMAND_LIMITS
from roster.tables.reading import read_table
from roster.tables.table import Table
from tests.roster.tables.files import write_csv, write_workbook

COLUMNS = Columns(known=("client", "performed_on", "rest_s", "note"), required=("client", "performed_on"))


def _read(path: Path, **limits: int) -> Table:
    return read_table(path, COLUMNS, replace(COMMAND_LIMITS, **limits))


@pytest.fixture
def csv_of(tmp_path: Path):
    return lambda text: write_csv(tmp_path / "logs.csv", text)


@pytest.mark.parametrize(
    "header",
    [
        "client,performed_on,rest_s",
        "CLIENT,Performed On,Rest S",
        " client ,performedOn,rest-s",
        "Client,PERFORMED_ON,RestS",
    ],
)
def test_header_names_match_without_regard_to_case_and_spaces(csv_of, header: str):
    table = _read(csv_of(f"{header}\nana,2026-03-02,75\n"))

    assert table.filled_cells(table.rows[0]) == {"client": "ana", "performed_on": "2026-03-02", "rest_s": "75"}


def test_the_order_of_columns_does_not_matter(csv_of):
    table = _read(csv_of("rest_s,client,performed_on\n75,ana,2026-03-02\n"))

    assert table.filled_cells(table.rows[0]) == {"rest_s": "75", "client": "ana", "performed_on": "2026-03-02"}


def test_unknown_columns_are_reported_and_not_read(csv_of):
    table = _read(csv_of("client,mood,performed_on,shoes\nana,fine,2026-03-02,red\n"))

    assert table.messages == ["columns not known and not read: “mood”, “shoes”"]
    assert "mood" not in table


def test_a_name_of_any_length_is_told_in_a_line(csv_of):
    table = _read(csv_of(f"client,{'mood' * 9_000},\"a\nb\",performed_on\nana,,,2026-03-02\nbo\n"))

    [message], [fault] = table.messages, table.faults
    assert (len(message) < 120, "a·b" in message, len(str(fault)) < 120) == (True, True, True)


def test_a_column_that_is_not_there_is_not_in_the_table(csv_of):
    table = _read(csv_of("client,performed_on\nana,2026-03-02\n"))

    assert ("rest_s" in table, "client" in table) == (False, True)


def test_empty_rows_and_empty_columns_at_the_end_are_passed_over(csv_of):
    table = _read(csv_of("client,performed_on,,\nana,2026-03-02,,\n,,,\n\nbo,2026-03-03,,\n"))

    assert [row.number for row in table.rows] == [2, 5]


def test_a_workbook_gives_the_table_that_its_csv_gives(tmp_path: Path):
    """ASVS 5.0 1.5.3"""
    as_csv = write_csv(tmp_path / "logs.csv", "client;performed_on;rest_s\n101;2026-03-02;75,5\n")
    as_workbook = write_workbook(
        tmp_path / "logs.xlsx", [["client", "performed_on", "rest_s"], [101, date(2026, 3, 2), 75.5]]
    )

    cells = [[str(cell).replace(",", ".") for cell in _read(path).rows[0].cells] for path in (as_csv, as_workbook)]

    assert cells[0] == cells[1]


def test_a_row_of_a_workbook_may_end_early(tmp_path: Path):
    path = write_workbook(tmp_path / "logs.xlsx", [["client", "performed_on", "rest_s"], ["ana", date(2026, 3, 2)]])

    assert _read(path).rows[0].cells == ("ana", date(2026, 3, 2), "")


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("", "is empty"),
        ("\n\n", "is empty"),
        ("client,performed_on\n", "has a header and no rows"),
        ("client,rest_s\nana,75\n", "row 1: the header lacks the column performed_on"),
        ("a,b\n1,2\n", "row 1: the header lacks the columns client, performed_on"),
        ("client,performed_on,Client\nana,2026-03-02,bo\n", "row 1, client: “Client” names this column twice"),
        ("%PDF-1.7\n%âãÏÓ\n", "row 1: the header lacks the columns"),
    ],
)
def test_what_is_no_such_table_is_refused_in_one_line(csv_of, text: str, fault: str):
    with pytest.raises(FileRefused) as refused:
        _read(csv_of(text))

    assert str(refused.value.fault).startswith(fault)
    assert "\n" not in str(refused.value.fault)


@pytest.mark.parametrize(
    ("text", "faults"),
    [
        (
            "client,performed_on\nana,2026-03-02,5\nbo,2026-03-02\ncy,,,7\n",
            [
                "row 2, column C: “5” has cells beyond the header's 2; a cell with a separator in it needs quotes",
                "row 4, column D: “7” has cells beyond the header's 2; a cell with a separator in it needs quotes",
            ],
        ),
        (
            "client,performed_on,rest_s\nana,2026-03-02,75\nbo,2026\ncy\n",
            [
                "row 3, rest_s: has 2 cells under a header of 3",
                "row 4, performed_on: has 1 cells under a header of 3",
            ],
        ),
    ],
)
def test_every_row_of_another_width_is_a_fault_and_no_row_of_the_table(csv_of, text: str, faults: list[str]):
    table = _read(csv_of(text))

    assert [str(fault) for fault in table.faults] == faults
    assert len(table.rows) == 1


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "is no UTF-8"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(100), "is an old .xls workbook"),
        (b"PK\x03\x04" + os.urandom(300), "is a damaged or half-written workbook"),
        (b"client,performed_on\n" + bytes(20), "NUL bytes"),
    ],
)
def test_a_binary_file_is_refused(tmp_path: Path, content: bytes, reason: str):
    """ASVS 5.0 5.2.2"""
    path = tmp_path / "logs.csv"
    path.write_bytes(content)

    with pytest.raises(FileRefused, match=reason):
        _read(path)


def test_a_half_written_workbook_is_refused(tmp_path: Path):
    whole = write_workbook(tmp_path / "whole.xlsx", [["client", "performed_on"], ["ana", date(2026, 3, 2)]])
    half = tmp_path / "half.xlsx"
    half.write_bytes(whole.read_bytes()[: whole.stat().st_size // 2])

    with pytest.raises(FileRefused, match="is a damaged or half-written workbook"):
        _read(half)


def test_an_archive_that_is_no_workbook_is_refused(tmp_path: Path):
    path = tmp_path / "logs.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("readme.txt", "no workbook")

    with pytest.raises(FileRefused, match="is an archive and no workbook"):
        _read(path)


def test_a_workbook_whose_markup_expands_without_end_is_refused(tmp_path: Path):
    """ASVS 5.0 1.5.1"""
    path = tmp_path / "logs.xlsx"
    entities = "".join(f'<!ENTITY l{n + 1} "{f"&l{n};" * 10}">' for n in range(9))
    bomb = f'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY l0 "ha">{entities}]><x>&l9;</x>'
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("[Content_Types].xml", bomb)

    with pytest.raises(FileRefused, match="its markup defines entities"):
        _read(path)


@pytest.mark.parametrize(
    ("limit", "reason"),
    [
        ({"rows": 2}, "has more than 2 rows"),
        ({"columns": 1}, "has more than 1 columns"),
        ({"file_bytes": 10}, "is larger"),
    ],
)
@pytest.mark.parametrize("ending", ["csv", "xlsx"])
def test_a_file_beyond_a_limit_is_refused(tmp_path: Path, ending: str, limit: dict[str, int], reason: str):
    rows = [["client", "performed_on"], *([f"c{n}", "2026-03-02"] for n in range(3))]
    path = tmp_path / f"logs.{ending}"
    if ending == "csv":
        write_csv(path, "\n".join(",".join(row) for row in rows))
    else:
        write_workbook(path, rows)

    with pytest.raises(FileRefused, match=reason):
        _read(path, **limit)


def test_one_cell_in_the_last_corner_of_a_sheet_is_no_burden_and_is_refused(tmp_path: Path):
    path = write_workbook(tmp_path / "logs.xlsx", [["client", "performed_on"], ["ana", date(2026, 3, 2)]])
    edited = tmp_path / "edited.xlsx"
    with zipfile.ZipFile(path) as before, zipfile.ZipFile(edited, "w") as after:
        for name in before.namelist():
            far = b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'
            content = before.read(name)
            after.writestr(name, content.replace(b"</sheetData>", far) if name.endswith("sheet1.xml") else content)

    with pytest.raises(FileRefused, match="has more than 200 columns") as refused:
        _read(edited)

    assert refused.value.fault.row == 1_048_576


def test_progress_is_told_while_rows_come_in(csv_of):
    told: list[tuple[str, int]] = []
    text = "client,performed_on\n" + "ana,2026-03-02\n" * 1200

    read_table(csv_of(text), COLUMNS, progress=lambda what, count: told.append((what, count)))

    # The header is one of the first five hundred.
    assert told == [("rows read", 499), ("rows read", 999), ("rows read", 1200)]
