"""CSV files as RFC 4180 has them, with a comma, a semicolon or a tab between cells.

Text is UTF-8, with or without a byte order mark, or UTF-16 with one. Rows are numbered as a spreadsheet shows
them: the header is row 1, a cell with line breaks in it makes no further row, and an empty line counts.
"""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import BinaryIO, TextIO

from roster.tables.cells import Cell
from roster.tables.faults import FileRefused

SEPARATORS = (",", ";", "\t")
UTF_16_MARKS = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
LONGEST_HEADER = 1 << 18
# What is taken is not given back to try otherwise: a file of quotes alone would take for ever.
QUOTED = re.compile(r'"(?:[^"]|"")*+"')
FIRST_RECORD = re.compile(rf'(?:{QUOTED.pattern}|[^"\r\n])*+')
CHUNK_BYTES = 1 << 20


def read_text_rows(file: BinaryIO, longest_cell: int) -> Iterator[tuple[int, list[Cell]]]:
    """Every record that has a cell, with its number; the first is the header."""
    encoding = _encoding_of(file)
    _refuse_what_is_no_text(file, encoding)
    separator = _separator_of(file, encoding)
    for number, record in _records(file, encoding, separator, longest_cell):
        if record:
            yield number, list(record)


@contextmanager
def _as_text(file: BinaryIO, encoding: str) -> Iterator[TextIO]:
    """The file from its beginning, which stays open afterwards."""
    file.seek(0)
    text = io.TextIOWrapper(file, encoding=encoding, newline="")
    try:
        yield text
    finally:
        text.detach()


def _encoding_of(file: BinaryIO) -> str:
    file.seek(0)
    return "utf-16" if file.read(4).startswith(UTF_16_MARKS) else "utf-8-sig"


def _refuse_what_is_no_text(file: BinaryIO, encoding: str) -> None:
    """Decode once from end to end, so that the first wrong byte is named with its row."""
    file.seek(0)
    decoder = codecs.getincrementaldecoder(encoding)()
    row = 1
    for chunk in iter(lambda: file.read(CHUNK_BYTES), b""):
        row = _check_chunk(decoder, chunk, row)
    _check_chunk(decoder, b"", row, final=True)


def _check_chunk(decoder: codecs.IncrementalDecoder, chunk: bytes, row: int, *, final: bool = False) -> int:
    try:
        text = decoder.decode(chunk, final)
    except UnicodeDecodeError as error:
        before = error.object[: error.start]
        raise _not_the_encoding(error, row + _line_ends(before.decode(error.encoding, "replace"))) from None
    if "\0" in text:
        found = row + _line_ends(text[: text.index("\0")])
        raise FileRefused("is no table: it holds NUL bytes. Save it as .xlsx, or as CSV in UTF-8", row=found)
    return row + _line_ends(text)


def _line_ends(text: str) -> int:
    return text.count("\n") or text.count("\r")


def _not_the_encoding(error: UnicodeDecodeError, row: int) -> FileRefused:
    if error.encoding.startswith("utf-16"):
        return FileRefused("is no text in UTF-16: the file is cut off or damaged", row=row)
    byte = error.object[error.start]
    try:
        letter = f", “{bytes([byte]).decode('cp1252')}” in Windows-1252"
    except UnicodeDecodeError:
        letter = ""
    return FileRefused(
        f"the byte 0x{byte:02X}{letter} is no UTF-8. Save the file as CSV in UTF-8, or as .xlsx", row=row
    )


def _separator_of(file: BinaryIO, encoding: str) -> str:
    """The separator that stands most often outside the quotes of the header; a comma when none does."""
    with _as_text(file, encoding) as text:
        start = text.read(LONGEST_HEADER).lstrip("\r\n")
    header = FIRST_RECORD.match(start)
    outside_quotes = QUOTED.sub("", header[0]) if header else ""
    return max(SEPARATORS, key=outside_quotes.count)


def _records(file: BinaryIO, encoding: str, separator: str, longest_cell: int) -> Iterator[tuple[int, list[str]]]:
    csv.field_size_limit(longest_cell)
    number = 0
    with _as_text(file, encoding) as text:
        reader = csv.reader(text, delimiter=separator, strict=True)
        try:
            for number, record in enumerate(reader, start=1):
                yield number, record
        except csv.Error as error:
            raise FileRefused(_said_plainly(error, longest_cell), row=number + 1) from None


def _said_plainly(error: csv.Error, longest_cell: int) -> str:
    message = str(error)
    if "unexpected end of data" in message:
        return "a quote is opened and never closed; the file may be cut off"
    if "field larger" in message:
        return f"a cell is longer than {longest_cell:,} characters; a quote may be missing its partner"
    if "expected after" in message:
        return "text follows a closing quote; a quote inside a quoted cell is written twice"
    return f"is no CSV ({message})"
