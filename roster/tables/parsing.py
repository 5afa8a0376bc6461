"""The child process that takes a file apart: `python -m roster.tables.parsing LIMITS`, the file as its standard input.

JSON lines come out. A batch of rows a line, `{"rows": [[number, [cell, ...]], ...]}`; a cell is a string, a list of one
ISO date, or a list of what stands there and why it can't be read. The last line is `{"end": true}` or
`{"refused": [reason, row, column, value]}`; without it the child did not get to the end.
"""

from __future__ import annotations

import json
import mimetypes
import os
import sys
import zipfile
from collections.abc import Iterable, Iterator
from dataclasses import asdict
from datetime import date
from typing import Any, BinaryIO, TextIO

from roster.tables.cells import Cell, UnreadableCell
from roster.tables.faults import FileRefused
from roster.tables.formula_cells import unguarded
from roster.tables.limits import Limits
from roster.tables.places import lettered_column
from roster.tables.text_files import read_text_rows

ROWS_A_LINE = 500
CHARACTERS_A_LINE = 1 << 20
ARCHIVE_MARKS = (b"PK\x03\x04", b"PK\x05\x06")
OLD_OFFICE_MARK = b"\xd0\xcf\x11\xe0"
# Not needed, slow to load and large; the reader of workbooks takes them up when it finds them.
NOT_TO_BE_LOADED = ("numpy", "lxml", "PIL")
Record = tuple[int, list[Cell]]


def parse_file(file: BinaryIO, limits: Limits) -> Iterator[dict[str, Any]]:
    """What the child says about a file, line by line."""
    try:
        yield from _lines_of(file, limits)
        yield {"end": True}
    except FileRefused as refused:
        fault = refused.fault
        yield {"refused": [fault.reason, fault.row, fault.column, fault.value]}
    except MemoryError:
        yield {"refused": ["takes more memory to read than a file of its size should", None, None, ""]}


def _lines_of(file: BinaryIO, limits: Limits) -> Iterator[dict[str, Any]]:
    file.seek(0)
    start = file.read(4)
    if start == OLD_OFFICE_MARK:
        raise FileRefused(
            "is an old .xls workbook, or one with a password: save it as .xlsx or .csv without a password"
        )
    if start in ARCHIVE_MARKS:
        yield from _lines_of_workbook(file, limits)
    else:
        yield from _batches(_within(limits, read_text_rows(file, limits.cell_characters)))


def _lines_of_workbook(file: BinaryIO, limits: Limits) -> Iterator[dict[str, Any]]:
    # Imported only for a workbook: it takes longer than reading a small CSV file.
    from defusedxml import DefusedXmlException

    from roster.tables.workbooks import Workbook

    try:
        book = Workbook(file, limits)
        yield {"sheet": book.sheet_name, "other_sheets": book.other_sheets}
        yield from _batches(_within(limits, book.rows()))
    except (FileRefused, MemoryError):
        raise
    except DefusedXmlException:
        raise FileRefused("is no workbook: its markup defines entities or refers to other places") from None
    except zipfile.BadZipFile as error:
        raise FileRefused(f"is a damaged or half-written workbook ({error})") from None
    except Exception as error:
        # The reader of workbooks meets hostile and broken ones with whatever exception comes first.
        raise FileRefused(f"is no workbook that can be read ({type(error).__name__})") from error


def _within(limits: Limits, records: Iterable[Record]) -> Iterator[Record]:
    cells_read = 0
    for count, (number, cells) in enumerate(records):
        if count > limits.rows:
            raise FileRefused(f"has more than {limits.rows:,} rows", row=number)
        beyond = next((place for place in range(limits.columns, len(cells)) if cells[place] != ""), None)
        if beyond is not None:
            reason = f"has more than {limits.columns} columns"
            raise FileRefused(reason, row=number, column=lettered_column(beyond))
        cells_read += len(cells)
        if cells_read > limits.cells:
            raise FileRefused(f"has more than {limits.cells:,} cells", row=number)
        yield number, cells[: limits.columns]


def _batches(records: Iterable[Record]) -> Iterator[dict[str, Any]]:
    batch: list[tuple[int, list[str | list[str]]]] = []
    characters = 0
    for number, cells in records:
        batch.append((number, [_coded(cell) for cell in cells]))
        characters += sum(map(_length, cells))
        if len(batch) == ROWS_A_LINE or characters > CHARACTERS_A_LINE:
            yield {"rows": batch}
            batch, characters = [], 0
    if batch:
        yield {"rows": batch}


def _length(cell: Cell) -> int:
    return len(cell) if isinstance(cell, str) else 0


def _coded(cell: Cell) -> str | list[str]:
    if isinstance(cell, date):
        return [cell.isoformat()]
    if isinstance(cell, UnreadableCell):
        return [cell, cell.reason]
    return unguarded(cell.strip()).strip()


def write_lines(file: BinaryIO, limits: Limits, out: TextIO) -> None:
    for line in parse_file(file, limits):
        out.write(json.dumps(line) + "\n")
    out.flush()


def load_nothing_needless() -> None:
    for name in NOT_TO_BE_LOADED:
        sys.modules.setdefault(name, None)  # type: ignore[arg-type]
    # The machine's list of file types, which the reader of workbooks would read too.
    mimetypes.knownfiles = []


def main(limits_as_json: str) -> None:
    from roster.tables.confinement import bound_resources, forbid_the_rest, leave_the_network

    limits = Limits(**json.loads(limits_as_json))
    load_nothing_needless()
    leave_the_network()
    with open(0, "rb", closefd=False) as file:
        bound_resources(os.fstat(0).st_size, limits)
        forbid_the_rest()
        write_lines(file, limits, sys.stdout)


def arguments_for(limits: Limits) -> list[str]:
    return [json.dumps(asdict(limits))]


if __name__ == "__main__":
    main(*sys.argv[1:])
