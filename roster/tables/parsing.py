"""The child process that takes a file apart: `python -m roster.tables.parsing FILE LIMITS`, JSON lines out.

A batch of rows a line, `{"rows": [[number, [cell, ...]], ...]}`; a cell is a string, or a list of one ISO date. The
last line is `{"end": true}` or `{"refused": [reason, row, value]}`; without it the child did not get to the end.
"""

from __future__ import annotations

import json
import sys
import zipfile
from collections.abc import Iterable, Iterator
from dataclasses import asdict
from datetime import date
from itertools import islice
from pathlib import Path
from typing import Any

from roster.tables.faults import FileRefused
from roster.tables.limits import MEGABYTE, Limits
from roster.tables.text_files import read_text_rows

ROWS_A_LINE = 500
ARCHIVE_MARK = b"PK\x03\x04"
OLD_OFFICE_MARK = b"\xd0\xcf\x11\xe0"
MEMORY_AT_LEAST_BYTES = 700 * MEGABYTE
MEMORY_A_FILE_BYTE = 12
SECONDS_AT_LEAST = 60
SECONDS_A_MEGABYTE = 10
Record = tuple[int, list[str | date]]


def parse_file(path: Path, limits: Limits) -> Iterator[dict[str, Any]]:
    """What the child says about a file, line by line."""
    try:
        yield from _lines_of(path, limits)
        yield {"end": True}
    except FileRefused as refused:
        yield {"refused": [refused.fault.reason, refused.fault.row, refused.fault.value]}
    except MemoryError:
        yield {"refused": ["takes more memory to read than a file of its size should", None, ""]}


def _lines_of(path: Path, limits: Limits) -> Iterator[dict[str, Any]]:
    with path.open("rb") as file:
        start = file.read(4)
    if start == OLD_OFFICE_MARK:
        raise FileRefused(
            "is an old .xls workbook, or one with a password: save it as .xlsx or .csv without a password"
        )
    if start == ARCHIVE_MARK:
        yield from _lines_of_workbook(path, limits)
    else:
        yield from _batches(_within(limits, read_text_rows(path)))


def _lines_of_workbook(path: Path, limits: Limits) -> Iterator[dict[str, Any]]:
    # Imported only for a workbook: it takes longer than reading a small CSV file.
    from roster.tables.workbooks import Workbook

    try:
        book = Workbook(path, limits)
        yield {"sheet": book.sheet_name, "other_sheets": book.other_sheets}
        yield from _batches(_within(limits, book.rows()))
    except (FileRefused, MemoryError):
        raise
    except zipfile.BadZipFile as error:
        raise FileRefused(f"is a damaged or half-written workbook ({error})") from None
    except Exception as error:
        # The reader of workbooks meets hostile and broken ones with whatever exception comes first.
        raise FileRefused(f"is no workbook that can be read ({type(error).__name__})") from error


def _within(limits: Limits, records: Iterable[tuple[int, Any]]) -> Iterator[Record]:
    for count, (number, cells) in enumerate(records):
        if count > limits.rows:
            raise FileRefused(f"has more than {limits.rows:,} rows")
        if len(cells) > limits.columns and any(cell != "" for cell in cells[limits.columns :]):
            raise FileRefused(f"has more than {limits.columns} columns", row=number)
        yield number, cells[: limits.columns]


def _batches(records: Iterator[Record]) -> Iterator[dict[str, Any]]:
    while batch := [(number, [_coded(cell) for cell in cells]) for number, cells in islice(records, ROWS_A_LINE)]:
        yield {"rows": batch}


def _coded(cell: str | date) -> str | list[str]:
    return [cell.isoformat()] if isinstance(cell, date) else cell.strip()


def bound_resources(file_bytes: int) -> None:
    """As much memory and time as a file of this size may need, where the system knows such bounds."""
    if sys.platform == "win32":
        return
    import resource

    memory_bytes = MEMORY_AT_LEAST_BYTES + MEMORY_A_FILE_BYTE * file_bytes
    seconds = SECONDS_AT_LEAST + SECONDS_A_MEGABYTE * file_bytes // MEGABYTE
    resource.setrlimit(resource.RLIMIT_AS, (memory_bytes, memory_bytes))
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))


def main(path: str, limits: str) -> None:
    bound_resources(Path(path).stat().st_size)
    for line in parse_file(Path(path), Limits(**json.loads(limits))):
        sys.stdout.write(json.dumps(line) + "\n")


def arguments_for(path: Path, limits: Limits) -> list[str]:
    return [str(path.absolute()), json.dumps(asdict(limits))]


if __name__ == "__main__":
    main(*sys.argv[1:])
