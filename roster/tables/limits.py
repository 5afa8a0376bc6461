"""How large a file may be, and how much memory and time the reading of it may take.

Two profiles: what somebody sends through a page is small and waited for; what a command is given on the machine itself
may be large, and gets memory and time by its size.
"""

from __future__ import annotations

from dataclasses import dataclass

MEGABYTE = 1_000_000
# The wall clock also runs while other programs have the processor; a busy machine must not refuse good files.
WALL_SECONDS_A_CPU_SECOND = 4


@dataclass(frozen=True, slots=True)
class Limits:
    rows: int
    columns: int
    cells: int
    cell_characters: int
    file_bytes: int
    # Of a workbook, as really unpacked, whatever its directory says.
    unpacked_bytes: int
    workbook_members: int
    # Of the child that reads the file.
    memory_bytes: int
    memory_a_file_byte: int
    cpu_seconds: int
    cpu_seconds_a_megabyte: int

    def memory_for(self, file_bytes: int) -> int:
        return self.memory_bytes + self.memory_a_file_byte * file_bytes

    def cpu_seconds_for(self, file_bytes: int) -> int:
        return self.cpu_seconds + self.cpu_seconds_a_megabyte * file_bytes // MEGABYTE

    def wall_seconds_for(self, file_bytes: int) -> int:
        return WALL_SECONDS_A_CPU_SECOND * self.cpu_seconds_for(file_bytes)

    @property
    def most_output_bytes(self) -> int:
        """More than any file within these limits can make the child say: a character takes at most six bytes."""
        return 6 * (self.file_bytes + self.unpacked_bytes) + 64 * (self.rows + self.cells)


COMMAND_LIMITS = Limits(
    rows=1_000_000,
    columns=200,
    cells=50_000_000,
    cell_characters=131_072,
    file_bytes=500 * MEGABYTE,
    unpacked_bytes=500 * MEGABYTE,
    workbook_members=200,
    memory_bytes=700 * MEGABYTE,
    memory_a_file_byte=12,
    cpu_seconds=60,
    cpu_seconds_a_megabyte=10,
)
UPLOAD_LIMITS = Limits(
    rows=20_000,
    columns=200,
    cells=500_000,
    cell_characters=131_072,
    file_bytes=10 * MEGABYTE,
    unpacked_bytes=50 * MEGABYTE,
    workbook_members=200,
    memory_bytes=300 * MEGABYTE,
    memory_a_file_byte=0,
    cpu_seconds=5,
    cpu_seconds_a_megabyte=0,
)
