"""What is wrong with a file: where, what stands there, and why it can't be taken."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from roster.tables.places import Sheet

LONGEST_VALUE_SHOWN = 60
MOST_FAULTS_KEPT = 10_000
UNREADABLE = "could not be read: it took too much memory or time, or is damaged"


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong; without a row it is about the whole file."""

    row: int | None
    column: str | None
    value: str
    reason: str
    # As a spreadsheet names the place; empty for a text file.
    cell: str = ""

    def __str__(self) -> str:
        place = ", ".join(part for part in (f"row {self.row}" if self.row else "", self.column) if part)
        if self.cell:
            place += f" ({self.cell})"
        said = f"“{shown(self.value)}” {self.reason}" if self.value else self.reason
        return f"{place}: {said}" if place else said


@dataclass
class Faults:
    """All faults of a file, in the order in which they were found."""

    kept: list[Fault] = field(default_factory=list)
    total: int = 0
    # Of a workbook.
    sheet: Sheet | None = None

    def add(self, row: int | None, column: str | None, value: object, reason: str) -> None:
        self.total += 1
        if self.total <= MOST_FAULTS_KEPT:
            cell = self.sheet.cell(row, column) if self.sheet and row and column else ""
            self.kept.append(Fault(row, column, str(value), on_one_line(reason), cell))

    def take_over(self, others: Faults) -> None:
        """What was found wrong before, and in which sheet."""
        self.sheet = others.sheet
        self.total += others.total
        self.kept += others.kept[: MOST_FAULTS_KEPT - len(self.kept)]

    @property
    def counted(self) -> str:
        return "1 fault" if self.total == 1 else f"{self.total:,} faults"

    def __bool__(self) -> bool:
        return self.total > 0

    def __iter__(self) -> Iterator[Fault]:
        return iter(sorted(self.kept, key=lambda fault: fault.row or 0))


class FileRefused(Exception):
    """A file that can't be read as a table at all."""

    def __init__(self, reason: str, row: int | None = None, column: str | None = None, value: str = "") -> None:
        super().__init__(reason)
        self.fault = Fault(row, column, value, on_one_line(reason))


def shown(value: str) -> str:
    """A value on one line, shortened."""
    line = on_one_line(value)
    return line if len(line) <= LONGEST_VALUE_SHOWN else line[: LONGEST_VALUE_SHOWN - 1] + "…"


def on_one_line(text: str) -> str:
    """Without line breaks and control characters, which a terminal would obey."""
    if text.isprintable():
        return text
    return "".join(character if character.isprintable() else "·" for character in text)
