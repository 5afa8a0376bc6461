from __future__ import annotations

import csv
from dataclasses import dataclass
from pathlib import Path
from random import Random

Row = dict[str, str]

# fmt: off
CLIENT_COLUMNS = [
    "client", "name", "email", "time_zone", "unit", "joined_on", "sends", "minutes", "kit", "pauses", "goal",
]
BLOCK_COLUMNS = [
    "client", "block", "starts_on", "week", "day", "session", "slot", "exercise", "implement", "count", "sets", "reps",
    "load", "unit", "rest_s", "changed",
]
LOG_COLUMNS = [
    "client", "performed_on", "block", "week", "session", "exercise", "set", "reps", "load", "unit", "rest_s",
    "warm_up", "minutes", "rpe", "pain", "pain_region", "note", "submission",
]
# fmt: on


@dataclass(frozen=True)
class Roster:
    """The rows of the three files, every cell a string."""

    clients: list[Row]
    blocks: list[Row]
    logs: list[Row]


def respell(random: Random, label: str) -> str:
    """Now and then in other letters or with blanks around: labels compare trimmed and case-folded."""
    return random.choice([label.upper(), f" {label} ", label.lower()]) if random.random() < 0.05 else label


def write_files(roster: Roster, directory: Path) -> tuple[Path, Path, Path]:
    """The files of clients, blocks and logs, in the order in which they are loaded."""
    return (
        _write(directory / "clients.csv", CLIENT_COLUMNS, roster.clients),
        _write(directory / "blocks.csv", BLOCK_COLUMNS, roster.blocks),
        _write(directory / "logs.csv", LOG_COLUMNS, roster.logs),
    )


def _write(path: Path, columns: list[str], rows: list[Row]) -> Path:
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, columns)
        writer.writeheader()
        writer.writerows(rows)
    return path
