"""Where two exported tables differ, told row by row."""

from __future__ import annotations

from datetime import date
from math import isclose

Row = dict
# What tells the rows of a table apart; rows that share all of it are compared in order of what they say.
IDENTITY = {
    "sessions": ("client", "block", "week", "session", "suggested_on"),
    "weeks": ("client", "iso_week"),
    "exposures": ("client", "block", "week", "session", "position", "exercise", "performed_on"),
    "flags": ("client", "kind", "subject"),
}
# Words are the product's own.
NOT_COMPARED = ("sentence",)


def find_differences(table: str, expected: list[Row], actual: list[Row]) -> list[str]:
    wanted, found = _by_identity(table, expected), _by_identity(table, actual)
    differences = [f"{table} {key}: not exported" for key in wanted if key not in found]
    differences += [f"{table} {key}: exported, not expected" for key in found if key not in wanted]
    for key in wanted.keys() & found.keys():
        if len(wanted[key]) != len(found[key]):
            differences.append(f"{table} {key}: {len(found[key])} rows, expected {len(wanted[key])}")
            continue
        for wanted_row, found_row in zip(wanted[key], found[key], strict=True):
            differences += [f"{table} {key}: {told}" for told in _differing_cells(wanted_row, found_row)]
    return sorted(differences)


def _by_identity(table: str, rows: list[Row]) -> dict[tuple, list[Row]]:
    by_identity: dict[tuple, list[Row]] = {}
    for row in sorted(rows, key=_as_text):
        key = tuple(_plain(row[column]) for column in IDENTITY[table])
        by_identity.setdefault(key, []).append(row)
    return by_identity


def _as_text(row: Row) -> str:
    return str([_plain(row[column]) for column in sorted(row) if column not in NOT_COMPARED])


def _differing_cells(expected: Row, actual: Row) -> list[str]:
    if expected.keys() != actual.keys():
        return [f"columns {sorted(actual)}, expected {sorted(expected)}"]
    return [
        f"{column} is {actual[column]!r}, expected {expected[column]!r}"
        for column in expected
        if column not in NOT_COMPARED and not _is_equal(_plain(expected[column]), _plain(actual[column]))
    ]


def _is_equal(expected: object, actual: object) -> bool:
    if isinstance(expected, bool) or isinstance(actual, bool):
        return expected is actual
    if isinstance(expected, int | float) and isinstance(actual, int | float):
        return isclose(expected, actual, rel_tol=1e-9)
    return expected == actual


def _plain(value: object) -> object:
    """Empty is empty, and a day is a day, however it is held."""
    if isinstance(value, date):
        return value.isoformat()
    return None if value == "" else value
