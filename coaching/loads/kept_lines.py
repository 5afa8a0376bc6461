"""What was read of a file, kept small until somebody decides on it, and the table that it makes with what was mended.

The file itself is not kept: of a workbook it may hold sheets that nobody meant to hand in.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from coaching.loads.loading import LOADERS
from coaching.loads.models import FileInReview
from roster.tables.building import TableBuilder
from roster.tables.child import lines_from_child
from roster.tables.faults import Faults, FileRefused
from roster.tables.headers import Columns, match_header
from roster.tables.limits import Limits
from roster.tables.opening import open_regular_file
from roster.tables.table import Row, Table

Line = dict[str, Any]
ANY_COLUMNS = Columns(known=(), required=())


def read_lines(path: Path, limits: Limits) -> tuple[list[Line], list[str]]:
    """Everything that stands in a file, and the names in its header; raises FileRefused for what is no table."""
    builder = TableBuilder(ANY_COLUMNS)
    lines = []
    with open_regular_file(path, limits) as file:
        for line in lines_from_child(file, limits):
            builder.take(line)
            lines.append(line)
    builder.table()
    return lines, builder.names


def pack(lines: Iterable[Line]) -> bytes:
    return zlib.compress(json.dumps(list(lines), ensure_ascii=False, separators=(",", ":")).encode())


def unpack(packed: bytes | memoryview) -> list[Line]:
    lines: list[Line] = json.loads(zlib.decompress(packed))
    return lines


def guess_kind(names: list[str]) -> str:
    """The one kind whose needed columns are all there; empty when that is none or several."""
    fitting = [kind for kind, reason in why_not_of_kind(names).items() if not reason]
    return fitting[0] if len(fitting) == 1 else ""


def why_not_of_kind(names: list[str]) -> dict[str, str]:
    """By kind, why a header with these names can't be of it; empty where it can."""
    return {kind: _why_not(names, loader.columns) for kind, loader in LOADERS.items()}


def _why_not(names: list[str], columns: Columns) -> str:
    try:
        match_header(names, columns, 1)
    except FileRefused as refused:
        return refused.fault.reason
    return ""


def names_in_header(file: FileInReview) -> list[str]:
    builder = TableBuilder(ANY_COLUMNS)
    for line in unpack(file.lines):
        builder.take(line)
    return builder.names


def table_as_it_came(file: FileInReview) -> Table:
    """Raises FileRefused when the file is no table of its kind."""
    builder = TableBuilder(LOADERS[file.kind].columns)
    for line in unpack(file.lines):
        builder.take(line)
    return builder.table()


def mended(table: Table, mends: Mapping[str, Mapping[str, str]], left_out: Iterable[int] = ()) -> Table:
    """The table with cells as they were mended, and without the rows that are left out."""
    without = set(left_out)
    rows = [_mended_row(table, row, mends) for row in table.rows if row.number not in without]
    return Table(table.columns, rows, table.messages, _faults_beside(table.faults, without))


def _mended_row(table: Table, row: Row, mends: Mapping[str, Mapping[str, str]]) -> Row:
    changes = mends.get(str(row.number))
    if not changes:
        return row
    cells = list(row.cells)
    for column, text in changes.items():
        if column in table:
            cells[table.columns[column]] = text
    return Row(row.number, tuple(cells))


def _faults_beside(faults: Faults, without: set[int]) -> Faults:
    kept = [fault for fault in faults.kept if fault.row not in without]
    return Faults(kept, faults.total - len(faults.kept) + len(kept), faults.sheet)
