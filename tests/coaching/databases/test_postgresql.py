"""A server's connections wait in a pool; each is asked once whether it keeps what it acknowledges."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from django.core.exceptions import ImproperlyConfigured
from django.db import connections

from coaching.databases.durability import NotDurable
from tests.repository import ROOT

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("server")]
KEY = "a key of fifty characters or more, for the processes of this one test"


@pytest.fixture
def open_desk() -> Iterator[Callable[..., Any]]:
    """A connection to the tests' database with options of its own, from a pool of its own."""
    from coaching.databases.postgresql.base import DatabaseWrapper

    opened = []

    def opening(**options: Any) -> DatabaseWrapper:
        settings: dict[str, Any] = connections["default"].settings_dict
        pool = {"min_size": 1, "max_size": 1, "timeout": 5}
        opened.append(DatabaseWrapper({**settings, "OPTIONS": options | {"pool": pool}}, alias="tried"))
        return opened[-1]

    yield opening
    for desk in opened:
        desk.close()
        desk.close_pool()


def migrate(tmp_path: Path, url: str) -> subprocess.CompletedProcess[str]:
    environment = {"PATH": os.environ["PATH"], "DATABASE_URL": url, "SECRET_KEY": KEY, "MUSTER_HOME": str(tmp_path)}
    return subprocess.run(
        [sys.executable, "manage.py", "migrate"],
        cwd=ROOT, env=environment, capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip


def test_a_connection_comes_back_to_the_pool_and_is_not_asked_again(
    open_desk: Callable[..., Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    desk, asked = open_desk(), []
    ask = type(desk)._settings_of_the_server
    monkeypatch.setattr(type(desk), "_settings_of_the_server", lambda self: asked.append(1) or ask(self))

    for _ in range(3):
        desk.ensure_connection()
        desk.close()

    assert len(asked) == 1


def test_a_connection_that_commits_before_it_syncs_is_refused(open_desk: Callable[..., Any]) -> None:
    desk = open_desk(options="-c synchronous_commit=off")

    with pytest.raises(NotDurable, match="synchronous_commit is off"):
        desk.ensure_connection()

    assert desk.connection is None


@pytest.mark.parametrize(
    ("setting", "told"),
    [
        ("default_transaction_isolation=serializable", "begins transactions as serializable"),
        ("DateStyle=German", "writes days as German"),
    ],
)
def test_a_user_whose_settings_change_what_is_written_or_read_is_refused(
    open_desk: Callable[..., Any], setting: str, told: str
) -> None:
    desk = open_desk(options=f"-c {setting}")

    with pytest.raises(ImproperlyConfigured, match=told):
        desk.ensure_connection()

    assert desk.connection is None


def test_a_server_s_zone_and_letters_change_nothing(open_desk: Callable[..., Any]) -> None:
    desk = open_desk(options="-c TimeZone=Asia/Kathmandu -c client_encoding=LATIN1")

    with desk.cursor() as cursor:
        cursor.execute("SELECT '2026-04-15T07:00Z'::timestamptz, '2026-04-15T07:00Z'::timestamptz::date, 'Łucja'")
        instant, day, name = cursor.fetchone()

    assert (instant, instant.utcoffset()) == (datetime(2026, 4, 15, 7, tzinfo=UTC), timedelta(0))
    assert (day, name) == (date(2026, 4, 15), "Łucja")


def test_a_connection_that_the_server_ended_is_replaced_before_it_is_used(open_desk: Callable[..., Any]) -> None:
    desk = open_desk()
    with desk.cursor() as cursor:
        cursor.execute("SELECT pg_backend_pid()")
        (ended,) = cursor.fetchone()
    desk.close()

    with connections["default"].cursor() as cursor:
        cursor.execute("SELECT pg_terminate_backend(%s, 5000)", [ended])
    with desk.cursor() as cursor:
        cursor.execute("SELECT pg_backend_pid()")
        (present,) = cursor.fetchone()

    assert present != ended


def test_a_database_that_knows_no_letters_is_refused_in_one_line(narrow_database: str, tmp_path: Path) -> None:
    ran = migrate(tmp_path, narrow_database)

    assert ran.returncode == 2
    assert "encoded as SQL_ASCII" in ran.stderr
    assert ran.stderr.count("\n") == 1


def test_a_server_that_is_not_there_is_told_of_in_one_line(tmp_path: Path) -> None:
    ran = migrate(tmp_path, "postgres://muster@127.0.0.1:1/muster")

    assert ran.returncode == 2
    assert "Connection refused" in ran.stderr
    assert ran.stderr.count("\n") == 1
