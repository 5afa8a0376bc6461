"""Reading a file into a table of known columns."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any, BinaryIO

from roster.tables.building import TableBuilder
from roster.tables.child import lines_from_child
from roster.tables.headers import Columns
from roster.tables.limits import COMMAND_LIMITS, Limits
from roster.tables.opening import open_regular_file
from roster.tables.table import Table

# Called with what is being done, and how much of it is.
Progress = Callable[[str, int], None]
# Takes a file apart, in a child of ours unless the file is one's own.
Parse = Callable[[BinaryIO, Limits], Iterable[dict[str, Any]]]


def read_table(
    path: Path,
    columns: Columns,
    limits: Limits = COMMAND_LIMITS,
    progress: Progress | None = None,
    parse: Parse = lines_from_child,
) -> Table:
    """The rows of `path` under the known columns of its header; refuses a file that is no such table."""
    builder = TableBuilder(columns)
    with open_regular_file(path, limits) as file:
        for line in parse(file, limits):
            builder.take(line)
            if progress:
                progress("rows read", len(builder.rows))
    return builder.table()
