"""CSV files in the encodings and with the separators that spreadsheets write."""

from __future__ import annotations

import csv
import io
from contextlib import suppress
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roster.tables.cells import Cell
from roster.tables.faults import FileRefused
from roster.tables.text_files import read_text_rows
from tests.roster.tables.files import write_csv

ROWS = [(1, ["client", "note"]), (2, ["zoë", "hip – fine"])]
TEXT = "client,note\nzoë,hip – fine\n"
LONGEST_CELL = 1_000


def _read(path: Path) -> list[tuple[int, list[Cell]]]:
    return list(read_text_rows(BytesIO(path.read_bytes()), LONGEST_CELL))


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_text_is_read_in_every_encoding_that_says_what_it_is(tmp_path: Path, encoding: str):
    path = write_csv(tmp_path / "clients.csv", TEXT, encoding)

    assert _read(path) == ROWS


@pytest.mark.parametrize("mark", ["\ufeff"])
@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_utf_16_is_read_in_both_byte_orders(tmp_path: Path, encoding: str, mark: str):
    path = write_csv(tmp_path / "clients.csv", mark + TEXT, encoding)

    assert _read(path) == ROWS


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_the_separator_is_the_one_that_cuts_the_header(tmp_path: Path, separator: str, line_end: str):
    text = line_end.join([separator.join(["client", '"a,b;c\td"']), separator.join(["zoë", "x"]), ""])

    rows = _read(write_csv(tmp_path / "clients.csv", text))

    assert rows == [(1, ["client", "a,b;c\td"]), (2, ["zoë", "x"])]


def test_decimal_commas_in_the_rows_do_not_make_a_comma_the_separator(tmp_path: Path):
    path = write_csv(tmp_path / "logs.csv", "load;rest\n2,5;1,5\n")

    assert _read(path) == [(1, ["load", "rest"]), (2, ["2,5", "1,5"])]


def test_rows_are_numbered_as_a_spreadsheet_shows_them(tmp_path: Path):
    text = 'client,note\n\nana,"two\nlines"\n\nbo,x\n'

    numbers = [number for number, _ in _read(write_csv(tmp_path / "clients.csv", text))]

    assert numbers == [1, 3, 5]


def test_a_file_in_windows_1252_is_refused_with_the_row_of_its_first_byte_that_is_no_utf_8(tmp_path: Path):
    path = write_csv(tmp_path / "clients.csv", "client,note\nana,ok\nzoë,x\n", "cp1252")

    with pytest.raises(FileRefused) as refused:
        _read(path)

    assert refused.value.fault.row == 3
    assert "the byte 0xEB, “ë” in Windows-1252 is no UTF-8" in str(refused.value)


def test_the_row_of_a_wrong_byte_is_found_far_into_a_file(tmp_path: Path):
    path = tmp_path / "logs.csv"
    path.write_bytes(b"client,note\n" + b"ana,0123456789\n" * 200_000 + b"bo,\xff\n")

    with pytest.raises(FileRefused) as refused:
        _read(path)

    assert refused.value.fault.row == 200_002


@pytest.mark.parametrize(
    ("text", "row", "reason"),
    [
        ('a,b\n1,"open\n2,3\n', 2, "a quote is opened and never closed"),
        ('a,b\n1,2\n3,"x"y\n', 3, "text follows a closing quote"),
        ("a,b\n1,2\n3,\0\n", 3, "NUL bytes"),
        (f"a,b\n1,{'x' * (LONGEST_CELL + 1)}\n", 2, "a cell is longer than"),
    ],
)
def test_what_is_no_csv_is_refused_with_its_row(tmp_path: Path, text: str, row: int, reason: str):
    path = write_csv(tmp_path / "logs.csv", text)

    with pytest.raises(FileRefused, match=reason) as refused:
        _read(path)

    assert refused.value.fault.row == row


def test_utf_16_that_is_cut_off_is_refused(tmp_path: Path):
    path = tmp_path / "clients.csv"
    path.write_bytes(TEXT.encode("utf-16")[:-1])

    with pytest.raises(FileRefused, match="cut off or damaged"):
        _read(path)


cells = st.text(st.characters(blacklist_categories=["Cs"], blacklist_characters="\0"), max_size=12)
records = st.lists(st.lists(cells, min_size=2, max_size=5), min_size=1, max_size=8)


@given(records, st.sampled_from(",;\t"))
def test_whatever_the_standard_library_writes_is_read_back(tmp_path_factory, rows, separator):
    header = ["client", "note", "goal"]
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=separator).writerows([header, *rows])
    path = write_csv(tmp_path_factory.mktemp("peer") / "any.csv", text.getvalue())

    read = [record for _, record in _read(path)]

    assert read == [header, *rows]


@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_refused_and_nothing_else(tmp_path_factory, content: bytes):
    path = tmp_path_factory.mktemp("bytes") / "any.csv"
    path.write_bytes(content)

    with suppress(FileRefused):
        assert all(cells and number >= 1 for number, cells in _read(path))
