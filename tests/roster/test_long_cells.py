"""Text at the greatest length that a file may have is read in no time, whatever stands in it (ASVS 5.0 1.3.12).

A rule for a cell that tries many ways to match takes seconds or days for the right text; so each cell has a tenth of a
second of the processor, and is broken off after it.
"""

from __future__ import annotations

import gc
import re
import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from io import BytesIO
from itertools import product
from types import FrameType

import pytest

from roster.blocks.block_rows import COLUMNS as BLOCK_COLUMNS
from roster.blocks.block_rows import read_block_entries
from roster.logs.log_rows import COLUMNS as LOG_COLUMNS
from roster.logs.log_rows import LogRowReader
from roster.people.client_rows import COLUMNS as CLIENT_COLUMNS
from roster.people.client_rows import LONGEST_CELL, read_client_rows
from roster.people.models import Client
from roster.tables.cells import LONGEST_VALUE
from roster.tables.faults import Faults, FileRefused
from roster.tables.headers import Columns
from roster.tables.limits import UPLOAD_LIMITS
from roster.tables.table import Row, Table
from roster.tables.text_files import read_text_rows

LONGEST = UPLOAD_LIMITS.cell_characters
MOST_SECONDS = 0.1
# Each repeated to the full length, between a beginning and an end.
PATTERNS = [
    ("8", " ", "x"), ("", "1-", "x"), ("", ".", " x"), ("2026-01-01", ".", ""), ("", "1..", " "), ("", ";", ""),
    ("", "a:1;", ""), ("", "a:1,", ""), ("a:", "1,", ""), ("a:", "1-2/1,", "x"), ("", "9", ""), ("", "9", "."),
    ("", "0", "x"), ("8.", "0", "x"), ("", "ß", ""), ("", "İ", ""), ("", "a@", ""), ("a@", "b.", ""), ("", "-", ""),
    ("band", " ", "\nx"), ("8 each", " ", "x"), ("", "2026-01-01..2026-01-02;", ""), ("", "31.12.2026 ", ""),
    ("", "1.", ""), ("", "\u0301", ""), ("", "''", "="), ("", " \t", "x"), ("", "x", ""),
]  # fmt: skip
# That of a file, and those at which the rules for single cells stop looking.
LENGTHS = (LONGEST, LONGEST_CELL, LONGEST_VALUE)
KNOWN = {"bo": Client(pk=1, key="bo")}


class TooSlow(Exception):
    pass


@contextmanager
def a_tenth_of_a_second() -> Iterator[None]:
    """Of this process on the processor, so that a busy machine changes nothing; without what other tests left behind.

    A sweep through the objects of all tests before may take longer than that, and would be broken off in its middle.
    """

    def stop(number: int, frame: FrameType | None) -> None:
        raise TooSlow

    before = signal.signal(signal.SIGVTALRM, stop)
    gc.disable()
    signal.setitimer(signal.ITIMER_VIRTUAL, MOST_SECONDS)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        gc.enable()
        signal.signal(signal.SIGVTALRM, before)


def _read_clients(table: Table) -> None:
    read_client_rows(table, Faults(), lambda key: "kg")


def _read_blocks(table: Table) -> None:
    read_block_entries(table, Faults(), KNOWN)


def _read_logs(table: Table) -> None:
    LogRowReader(table, Faults(), KNOWN).read(table.rows[0])


KINDS: list[tuple[Columns, Callable[[Table], None]]] = [
    (CLIENT_COLUMNS, _read_clients), (BLOCK_COLUMNS, _read_blocks), (LOG_COLUMNS, _read_logs),
]  # fmt: skip
CASES = [(columns, read, name) for columns, read in KINDS for name in columns.known]


def _long(pattern: tuple[str, str, str], length: int) -> str:
    start, repeated, end = pattern
    return (start + repeated * length)[: length - len(end)] + end


@pytest.mark.parametrize(("columns", "read", "name"), CASES, ids=[f"{read.__name__}-{name}" for _, read, name in CASES])
def test_a_cell_of_full_length_is_read_or_refused_at_once(
    columns: Columns, read: Callable[[Table], None], name: str
):
    for pattern, length in product(PATTERNS, LENGTHS):
        cells = tuple(_long(pattern, length) if column == name else "" for column in columns.known)
        table = Table({column: place for place, column in enumerate(columns.known)}, [Row(2, cells)])

        with a_tenth_of_a_second():
            read(table)


@pytest.mark.parametrize("text", ['"' * 262_145, '""' * 131_072, '","' * 87_381, "a" * 262_144, '"a\n' * 87_000])
def test_a_header_of_quotes_alone_is_read_or_refused_at_once(text: str):
    with a_tenth_of_a_second(), suppress(FileRefused):
        next(read_text_rows(BytesIO(text.encode()), LONGEST), None)


def test_a_rule_that_tries_many_ways_is_found_out():
    with pytest.raises(TooSlow), a_tenth_of_a_second():
        re.fullmatch(r"8\s*(?:s)?(?:\s+each)?", "8" + " " * LONGEST + "x")
