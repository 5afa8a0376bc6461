"""What was asked and what was answered, and whether the database agrees: nothing acknowledged lost, half or twice."""

from __future__ import annotations

import sqlite3
from collections import Counter
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from enum import Enum
from pathlib import Path
from threading import Lock

from django.db.backends.sqlite3._functions import register

NOTES = "SELECT text, count(*) FROM people_note GROUP BY text"
CONTACTS = "SELECT outcome, count(*) FROM people_contact GROUP BY outcome"
EVENTS = "SELECT note, count(*) FROM monitoring_flagevent GROUP BY note"
LOGS = "SELECT note, count(*) / 2.0 FROM logs_sessionlog GROUP BY note"
SETS = (
    "SELECT log.note, count(*) / 6.0 FROM logs_setlog JOIN logs_sessionlog AS log ON log.id = session_log_id"
    " GROUP BY log.note"
)
FACTS = (
    "SELECT log.note, count(*) / 2.0 FROM monitoring_logfact JOIN logs_sessionlog AS log ON log.id = session_log_id"
    " GROUP BY log.note"
)


class Kind(Enum):
    """A change, and the questions that count what it left under its word: each answers 1 where it was kept."""

    NOTE = (NOTES,)
    CONTACT = (CONTACTS,)
    # An act keeps an event and a contact, in one transaction.
    ACT = (EVENTS, CONTACTS)
    # A file has two sessions of three sets each, and what is computed from them.
    FILE = (LOGS, SETS, FACTS)


@dataclass
class Ledger:
    """Shared by whoever sends; words are never used twice."""

    acknowledged: dict[str, Kind] = field(default_factory=dict)
    unanswered: dict[str, Kind] = field(default_factory=dict)
    refused: Counter[str] = field(default_factory=Counter)
    _alone: Lock = field(default_factory=Lock)

    def send(self, word: str, kind: Kind) -> None:
        with self._alone:
            self.unanswered[word] = kind

    def acknowledge(self, word: str) -> None:
        with self._alone:
            self.acknowledged[word] = self.unanswered.pop(word)

    def refuse(self, word: str, answer: str) -> None:
        with self._alone:
            del self.unanswered[word]
            self.refused[answer] += 1

    def faults(self, database: Path) -> list[str]:
        """What the database does not agree with, or what is wrong with the database itself."""
        with opened(database) as connection:
            kept = Kept(connection)
            lost = [
                f"acknowledged {kind.name} {word} is there {sorted(kept.times(word, kind))} times"
                for word, kind in self.acknowledged.items()
                if kept.times(word, kind) != {1}
            ]
            half = [
                f"unanswered {kind.name} {word} is there {sorted(kept.times(word, kind))} times"
                for word, kind in self.unanswered.items()
                if kept.times(word, kind) not in ({0}, {1})
            ]
            return lost + half + _broken(connection)

    def kept_without_answer(self, database: Path) -> int:
        """Changes that were kept, and whose sender was cut off before the answer came."""
        with opened(database) as connection:
            kept = Kept(connection)
            return sum(kept.times(word, kind) == {1} for word, kind in self.unanswered.items())


@contextmanager
def opened(database: Path) -> Iterator[sqlite3.Connection]:
    with closing(sqlite3.connect(database, timeout=20)) as connection, connection:
        # Constraints of the tables speak of the framework's own functions.
        register(connection)
        yield connection


class Kept:
    """How often each word is in each table, read at once."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        questions = {question for kind in Kind for question in kind.value}
        self._counts = {question: dict(connection.execute(question).fetchall()) for question in questions}

    def times(self, word: str, kind: Kind) -> set[float]:
        return {self._counts[question].get(word, 0) for question in kind.value}


def _broken(connection: sqlite3.Connection) -> list[str]:
    whole = [row[0] for row in connection.execute("PRAGMA integrity_check")]
    dangling = connection.execute("PRAGMA foreign_key_check").fetchall()
    without_facts = connection.execute(
        "SELECT count(*) FROM logs_sessionlog AS log LEFT JOIN monitoring_logfact ON session_log_id = log.id"
        " WHERE session_log_id IS NULL"
    ).fetchone()[0]
    return (
        [f"integrity: {line}" for line in whole if line != "ok"]
        + [f"dangling: {row}" for row in dangling]
        + ([f"{without_facts} logs have no facts"] if without_facts else [])
    )
