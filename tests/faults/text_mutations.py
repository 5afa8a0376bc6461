"""Mutations of a CSV file: of its bytes, cells, rows, header and encoding."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from random import Random

from tests.faults.odd_values import ODD_TEXTS

Cells = list[list[str]]
Mutation = Callable[[bytes, Random], bytes]
OTHER_ENCODINGS = (
    "utf-16",
    "utf-16-le",
    "utf-16-be",
    "utf-32",
    "utf-8-sig",
    "cp1252",
    "latin-1",
    "utf-7",
    "cp037",
    "utf-8",
)
MOST_COLUMNS_MADE = 30_000


def change_bytes(content: bytes, random: Random) -> bytes:
    changed = bytearray(content)
    for _ in range(random.choice([1, 1, 2, 8])):
        changed[random.randrange(len(changed))] = random.choice(
            [0, 9, 10, 13, 34, 44, 59, 128, 255, random.randrange(256)]
        )
    return bytes(changed)


def insert_bytes(content: bytes, random: Random) -> bytes:
    at = random.randrange(len(content) + 1)
    inserted = random.choice(
        [b"\0", b"\xff\xfe", b"\xef\xbb\xbf", b'"', b",", b"\n", b"\r", b"\xc3\x28", b"\xed\xa0\x80", b"\x1a"]
    )
    return content[:at] + inserted * random.choice([1, 1, 3, 1000]) + content[at:]


def cut_off(content: bytes, random: Random) -> bytes:
    return content[: random.randrange(len(content))]


def drop_bytes(content: bytes, random: Random) -> bytes:
    at = random.randrange(len(content))
    return content[:at] + content[at + random.choice([1, 1, 5, 80]) :]


def double(content: bytes, random: Random) -> bytes:
    return content + content


def _on_cells(change: Callable[[Cells, Random], None]) -> Mutation:
    def mutate(content: bytes, random: Random) -> bytes:
        encoding = "utf-16" if content[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
        text = content.decode(encoding, "replace")
        separator = max(",;\t", key=text.partition("\n")[0].count)
        rows = [row for row in csv.reader(io.StringIO(text.replace("\0", ""), newline=""), delimiter=separator) if row]
        change(rows or [[""]], random)
        out = io.StringIO(newline="")
        quoting = random.choice([csv.QUOTE_MINIMAL, csv.QUOTE_MINIMAL, csv.QUOTE_ALL])
        csv.writer(out, delimiter=separator, quoting=quoting).writerows(rows)
        return out.getvalue().encode(encoding, "replace")

    mutate.__name__ = change.__name__.lstrip("_")
    return mutate


def _any_row(rows: Cells, random: Random) -> int:
    return random.randrange(1, len(rows)) if len(rows) > 1 else 0


def _odd_cell(rows: Cells, random: Random) -> None:
    for _ in range(random.choice([1, 1, 1, 4])):
        row = rows[_any_row(rows, random)]
        row[random.randrange(len(row))] = random.choice(ODD_TEXTS)


def _another_rows_cell(rows: Cells, random: Random) -> None:
    row, other = rows[_any_row(rows, random)], rows[_any_row(rows, random)]
    place = random.randrange(min(len(row), len(other)))
    row[place] = other[random.choice([place, random.randrange(len(other))])]


def _odd_column(rows: Cells, random: Random) -> None:
    place, value = random.randrange(len(rows[0])), random.choice(ODD_TEXTS)
    for row in rows[1:]:
        row[min(place, len(row) - 1)] = value


def _repeat_row(rows: Cells, random: Random) -> None:
    at = _any_row(rows, random)
    rows[at:at] = [list(rows[at]) for _ in range(random.choice([1, 1, 40]))]


def _drop_rows(rows: Cells, random: Random) -> None:
    at = random.randrange(len(rows))
    del rows[at : at + random.choice([1, 1, 3, len(rows)])]
    rows[:] = rows or [[""]]


def _other_width(rows: Cells, random: Random) -> None:
    row = rows[_any_row(rows, random)]
    if random.random() < 0.5:
        del row[random.randrange(len(row)) + 1 :]
    else:
        row.extend(["7"] * random.choice([1, 3, 300]))


def _shuffle_rows(rows: Cells, random: Random) -> None:
    body = rows[1:]
    random.shuffle(body)
    rows[1:] = body


def _header_up_to_something(rows: Cells, random: Random) -> None:
    place = random.randrange(len(rows[0]))
    rows[0][place] = random.choice([*ODD_TEXTS, rows[0][0], rows[0][-1], rows[0][place].upper(), "client", "reps"])


def _drop_column(rows: Cells, random: Random) -> None:
    place = random.randrange(len(rows[0]))
    for row in rows:
        del row[place : place + 1]
    rows[:] = [row or [""] for row in rows]


def _move_column(rows: Cells, random: Random) -> None:
    before, after = random.randrange(len(rows[0])), random.randrange(len(rows[0]))
    for row in rows:
        if len(row) > max(before, after):
            row.insert(after, row.pop(before))


def _many_columns(rows: Cells, random: Random) -> None:
    rows[0].extend(f"more {n}" for n in range(random.choice([1, 199, MOST_COLUMNS_MADE])))


def other_encoding(content: bytes, random: Random) -> bytes:
    text = content.decode("utf-16" if content[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig", "replace")
    return text.replace("a", "ä").encode(random.choice(OTHER_ENCODINGS), "replace")


def mixed_encodings(content: bytes, random: Random) -> bytes:
    half = random.randrange(len(content))
    return content[:half] + other_encoding(content[half:], random)


TEXT_MUTATIONS: dict[str, list[Mutation]] = {
    "bytes": [change_bytes, insert_bytes, cut_off, drop_bytes, double],
    "cells": [_on_cells(_odd_cell), _on_cells(_another_rows_cell), _on_cells(_odd_column)],
    "rows": [_on_cells(_repeat_row), _on_cells(_drop_rows), _on_cells(_other_width), _on_cells(_shuffle_rows)],
    "header": [
        _on_cells(_header_up_to_something),
        _on_cells(_drop_column),
        _on_cells(_move_column),
        _on_cells(_many_columns),
    ],
    "encoding": [other_encoding, mixed_encodings],
}
