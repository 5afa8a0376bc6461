"""How large a file may be."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Limits:
    rows: int
    columns: int
    file_bytes: int
    # Of a workbook, as really unpacked, whatever its directory says.
    unpacked_bytes: int
    workbook_members: int


MEGABYTE = 1_000_000
COMMAND_LIMITS = Limits(
    rows=1_000_000,
    columns=200,
    file_bytes=500 * MEGABYTE,
    unpacked_bytes=500 * MEGABYTE,
    workbook_members=200,
)
