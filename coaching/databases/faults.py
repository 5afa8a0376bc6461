"""What a database can fail by, so that people are told which it is and what to do; anything else is a fault of ours."""

from __future__ import annotations

import sqlite3
from enum import Enum
from typing import NamedTuple

from django.db import DatabaseError, InterfaceError


class Told(NamedTuple):
    """`goes_by_itself_after_s` is None where somebody has to act first."""

    name: str
    status: int
    title: str
    words: str
    goes_by_itself_after_s: int | None


class DatabaseFault(Enum):
    BUSY = Told(
        "database-busy", 503, "Somebody else is writing",
        "Another change took longer than this page may wait for. Try again in a moment.", 5,
    )  # fmt: skip
    FULL = Told(
        "disk-full", 507, "The disk is full",
        "There is no room for anything new; what is there can still be read. Whoever looks after this installation"
        " must make room, then it goes on by itself.", None,
    )  # fmt: skip
    READ_ONLY = Told(
        "database-read-only", 503, "The database can only be read",
        "Its file, its folder or its server takes no changes. Whoever looks after this installation must allow Muster"
        " to write there.", None,
    )  # fmt: skip
    DAMAGED = Told(
        "database-damaged", 503, "The database file is damaged",
        "Part of it can't be read. Stop Muster, keep the damaged file aside, and restore the latest backup; nothing was"
        " written over it.", None,
    )  # fmt: skip
    UNREACHABLE = Told(
        "database-unreachable", 503, "The database does not answer",
        "It is not there, or takes no connection. Try again in a moment; if it stays so, whoever looks after this"
        " installation must look.", 10,
    )  # fmt: skip
    COUNTS_UNREACHABLE = Told(
        "counts-unreachable", 503, "Nobody can be let in at the moment",
        "Tries and requests are counted in a store that does not answer, and none is taken uncounted. Try again in a"
        " moment; if it stays so, whoever looks after this installation must look.", 10,
    )  # fmt: skip


# By the name of its module, so that nobody loads the package who has no such server.
REDIS = "redis.exceptions"
# The first byte of an extended code is its kind.
_SQLITE = {
    sqlite3.SQLITE_BUSY: DatabaseFault.BUSY,
    sqlite3.SQLITE_LOCKED: DatabaseFault.BUSY,
    sqlite3.SQLITE_FULL: DatabaseFault.FULL,
    # A disk that has no room for the log's shared memory, or that fails: told as what can be done about it.
    sqlite3.SQLITE_IOERR: DatabaseFault.FULL,
    sqlite3.SQLITE_READONLY: DatabaseFault.READ_ONLY,
    sqlite3.SQLITE_CORRUPT: DatabaseFault.DAMAGED,
    sqlite3.SQLITE_NOTADB: DatabaseFault.DAMAGED,
    sqlite3.SQLITE_CANTOPEN: DatabaseFault.UNREACHABLE,
}
# By the longest beginning of a server's SQLSTATE that is listed.
_POSTGRESQL = {
    "55P03": DatabaseFault.BUSY,
    "57014": DatabaseFault.BUSY,
    "40P01": DatabaseFault.BUSY,
    "40001": DatabaseFault.BUSY,
    "53": DatabaseFault.UNREACHABLE,
    "53100": DatabaseFault.FULL,
    "25006": DatabaseFault.READ_ONLY,
    "XX001": DatabaseFault.DAMAGED,
    "XX002": DatabaseFault.DAMAGED,
    "57P": DatabaseFault.UNREACHABLE,
    "08": DatabaseFault.UNREACHABLE,
}


def find_fault(error: BaseException | None) -> DatabaseFault | None:
    """The fault of the database behind an exception, if it is one that is known."""
    if type(error).__module__ == REDIS:
        return DatabaseFault.COUNTS_UNREACHABLE
    if not isinstance(error, DatabaseError | InterfaceError):
        return None
    cause = error.__cause__
    if isinstance(cause, sqlite3.Error):
        return _SQLITE.get(getattr(cause, "sqlite_errorcode", 0) & 0xFF)
    return _of_a_server(cause)


def in_words(error: BaseException) -> str:
    """On one line, for whoever started something; a server that does not answer says best itself why."""
    fault = find_fault(error)
    if fault is None or fault is DatabaseFault.UNREACHABLE:
        return " ".join(str(error).split())
    return f"{fault.value.title[0].lower()}{fault.value.title[1:]}. {fault.value.words}"


def _of_a_server(cause: BaseException | None) -> DatabaseFault | None:
    state = getattr(cause, "sqlstate", None)
    if state is None:
        # No server said it: the connection is gone, was not to be had, or none was free.
        is_about_the_connection = type(cause).__name__ in {"OperationalError", "InterfaceError", "PoolTimeout"}
        return DatabaseFault.UNREACHABLE if is_about_the_connection else None
    return next((_POSTGRESQL[state[:length]] for length in (5, 3, 2) if state[:length] in _POSTGRESQL), None)
