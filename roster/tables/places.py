"""Where in a file something stands, as a spreadsheet names it."""

from __future__ import annotations

from dataclasses import dataclass

LETTERS = 26
# Before the letters of a column that is not one of those known.
COLUMN = "column "


@dataclass(frozen=True, slots=True)
class Sheet:
    """The sheet of a workbook that was read, and in which of its columns each known one stands."""

    name: str
    letters: dict[str, str]

    def cell(self, row: int, column: str) -> str:
        letters = column.removeprefix(COLUMN) if column.startswith(COLUMN) else self.letters.get(column)
        return f"cell {letters}{row} of “{self.name}”" if letters else f"“{self.name}”"


def lettered_column(place: int) -> str:
    return COLUMN + column_letters(place)


def column_letters(place: int) -> str:
    """The letters of a column by its place, counted from 0.

    >>> column_letters(0), column_letters(25), column_letters(26), column_letters(16_383)
    ('A', 'Z', 'AA', 'XFD')
    """
    letters = ""
    count = place + 1
    while count:
        count, letter = divmod(count - 1, LETTERS)
        letters = chr(ord("A") + letter) + letters
    return letters
