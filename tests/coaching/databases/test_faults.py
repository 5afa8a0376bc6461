"""Which fault a database's own words stand for, and what is answered to it (ASVS 5.0 16.5.1)."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable
from pathlib import Path

import psycopg
import pytest
import redis
from django.db import DatabaseError, IntegrityError, OperationalError
from django.test import RequestFactory
from psycopg import errors

from coaching.databases.faults import DatabaseFault, find_fault
from coaching.databases.telling import TellDatabaseFaults, answer_with

GO_BY_THEMSELVES = {DatabaseFault.BUSY, DatabaseFault.UNREACHABLE, DatabaseFault.COUNTS_UNREACHABLE}


def caused_by(cause: Exception, error: type[Exception] = OperationalError) -> Exception:
    raised = error(*cause.args)
    raised.__cause__ = cause
    return raised


def locked(folder: Path) -> sqlite3.Error:
    with sqlite3.connect(folder / "one", timeout=0) as holder, sqlite3.connect(folder / "one", timeout=0) as other:
        holder.execute("BEGIN IMMEDIATE")
        with pytest.raises(sqlite3.OperationalError) as raised:
            other.execute("BEGIN IMMEDIATE")
    holder.close()
    other.close()
    return raised.value


def not_a_database(folder: Path) -> sqlite3.Error:
    (folder / "two").write_bytes(b"no database " * 100)
    with sqlite3.connect(folder / "two") as connection, pytest.raises(sqlite3.DatabaseError) as raised:
        connection.execute("SELECT * FROM sqlite_master")
    connection.close()
    return raised.value


def only_read(folder: Path) -> sqlite3.Error:
    sqlite3.connect(folder / "three").close()
    connection = sqlite3.connect(f"file:{folder / 'three'}?mode=ro", uri=True)
    with pytest.raises(sqlite3.OperationalError) as raised:
        connection.execute("CREATE TABLE rows (name)")
    connection.close()
    return raised.value


def full(folder: Path) -> sqlite3.Error:
    with sqlite3.connect(folder / "four") as connection:
        connection.execute("PRAGMA max_page_count = 2")
        connection.execute("CREATE TABLE rows (text)")
        with pytest.raises(sqlite3.OperationalError) as raised:
            connection.execute("INSERT INTO rows VALUES (zeroblob(100000))")
    connection.close()
    return raised.value


@pytest.mark.parametrize(
    ("meet", "fault"),
    [
        (locked, DatabaseFault.BUSY),
        (full, DatabaseFault.FULL),
        (only_read, DatabaseFault.READ_ONLY),
        (not_a_database, DatabaseFault.DAMAGED),
    ],
    ids=["locked", "full", "read-only", "damaged"],
)
def test_what_sqlite_says_is_known(tmp_path: Path, meet: Callable[[Path], sqlite3.Error], fault: DatabaseFault) -> None:
    assert find_fault(caused_by(meet(tmp_path), DatabaseError)) is fault


@pytest.mark.parametrize(
    ("said", "fault"),
    [
        (errors.LockNotAvailable, DatabaseFault.BUSY),
        (errors.DeadlockDetected, DatabaseFault.BUSY),
        (errors.QueryCanceled, DatabaseFault.BUSY),
        (errors.DiskFull, DatabaseFault.FULL),
        (errors.ReadOnlySqlTransaction, DatabaseFault.READ_ONLY),
        (errors.DataCorrupted, DatabaseFault.DAMAGED),
        (errors.AdminShutdown, DatabaseFault.UNREACHABLE),
        (errors.TooManyConnections, DatabaseFault.UNREACHABLE),
        (psycopg.OperationalError, DatabaseFault.UNREACHABLE),
    ],
)
def test_what_postgresql_says_is_known(said: type[psycopg.Error], fault: DatabaseFault) -> None:
    assert find_fault(caused_by(said("said by the server"))) is fault


@pytest.mark.parametrize("said", [redis.ConnectionError, redis.TimeoutError, redis.exceptions.ReadOnlyError])
def test_what_a_store_of_counts_fails_by_is_known(said: type[redis.RedisError]) -> None:
    assert find_fault(said("said by the store")) is DatabaseFault.COUNTS_UNREACHABLE


@pytest.mark.parametrize(
    "error",
    [
        caused_by(errors.UniqueViolation("twice"), IntegrityError),
        caused_by(errors.UndefinedTable("no such table"), DatabaseError),
        OSError("database is locked"),
        None,
    ],
)
def test_what_is_no_fault_of_the_database_stays_what_it_is(error: Exception | None) -> None:
    assert find_fault(error) is None


@pytest.mark.parametrize("fault", DatabaseFault)
def test_a_page_says_what_to_do_and_nothing_from_inside(fault: DatabaseFault) -> None:
    answer = answer_with(RequestFactory().post("/clients/"), fault)
    page = answer.content.decode()

    assert answer.status_code == (507 if fault is DatabaseFault.FULL else 503)
    assert fault.value.title in page
    assert "What you sent was not kept." in page
    assert ("Retry-After" in answer.headers) == (fault in GO_BY_THEMSELVES)


@pytest.mark.parametrize("fault", DatabaseFault)
def test_another_program_gets_a_problem_detail(fault: DatabaseFault) -> None:
    answer = answer_with(RequestFactory().get("/api/v1/clients/"), fault)
    problem = json.loads(answer.content)

    assert answer.headers["Content-Type"] == "application/problem+json"
    assert problem["status"] == answer.status_code
    assert {"type", "title", "detail"} <= problem.keys()


def test_a_fault_of_ours_is_left_to_whoever_tells_of_those() -> None:
    telling = TellDatabaseFaults(lambda request: pytest.fail("not asked"))

    assert telling.process_exception(RequestFactory().get("/"), ValueError("ours")) is None
