"""Which column of a file is which: names match without regard to case, spaces, underscores, hyphens or order."""

from __future__ import annotations

from collections.abc import Container, Sequence
from dataclasses import dataclass

from roster.tables.faults import FileRefused, shown


@dataclass(frozen=True, slots=True)
class Columns:
    """The columns that a kind of file may have, and those without which it can't be read."""

    known: tuple[str, ...]
    required: tuple[str, ...]
    # Columns that belong together, and those of them that are needed as soon as the file has one.
    detail: tuple[str, ...] = ()
    required_of_detail: tuple[str, ...] = ()

    def missing_from(self, places: Container[str]) -> list[str]:
        needed = list(self.required)
        if any(name in places for name in self.detail):
            needed += self.required_of_detail
        return [name for name in needed if name not in places]


@dataclass(frozen=True, slots=True)
class Header:
    # Place in the file of each known column that is there.
    places: dict[str, int]
    width: int
    messages: list[str]


def match_header(names: Sequence[str], columns: Columns, row: int) -> Header:
    known = {_fold(name): name for name in columns.known}
    places: dict[str, int] = {}
    unknown: list[str] = []
    for place, name in enumerate(names):
        column = known.get(_fold(name))
        if column in places:
            raise FileRefused("names this column twice", row=row, column=column, value=name)
        if column:
            places[column] = place
        elif name:
            unknown.append(f"“{shown(name)}”")
    _refuse_missing(columns, places, row)
    messages = [f"columns not known and not read: {', '.join(unknown)}"] if unknown else []
    return Header(places, _width(names), messages)


def _fold(name: str) -> str:
    return "".join(name.casefold().replace("_", " ").replace("-", " ").split())


def _width(names: Sequence[str]) -> int:
    """Without the empty names at the end, which spreadsheets leave behind."""
    return max((place + 1 for place, name in enumerate(names) if name), default=0)


def _refuse_missing(columns: Columns, places: dict[str, int], row: int) -> None:
    missing = columns.missing_from(places)
    if missing:
        word = "column" if len(missing) == 1 else "columns"
        raise FileRefused(f"the header lacks the {word} {', '.join(missing)}", row=row)
