"""No database that could lose an acknowledged log is spoken to."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest
from django.core.exceptions import ImproperlyConfigured
from django.db import connections

from coaching.databases.connecting import SQLITE_OPTIONS
from coaching.databases.durability import NotDurable, refuse_postgresql
from coaching.databases.sqlite.base import DatabaseWrapper

pytestmark = pytest.mark.django_db
SAFE = {
    "fsync": "on", "full_page_writes": "on", "synchronous_commit": "on", "server_encoding": "UTF8",
    "server_version_num": "150018", "default_transaction_isolation": "read committed", "DateStyle": "ISO, DMY",
}  # fmt: skip


def sqlite(name: str | Path, init_command: str = SQLITE_OPTIONS["init_command"]) -> DatabaseWrapper:
    settings: dict[str, Any] = connections["default"].settings_dict
    options = SQLITE_OPTIONS | {"init_command": init_command}
    return DatabaseWrapper({**settings, "NAME": str(name), "OPTIONS": options}, alias="tried")


def asked_of(database: DatabaseWrapper) -> list[Any]:
    with database.cursor() as cursor:
        return [
            cursor.execute(f"PRAGMA {name}").fetchone()[0] for name in ("journal_mode", "synchronous", "foreign_keys")
        ]


def test_a_file_is_written_with_a_full_sync_and_a_write_ahead_log(tmp_path: Path) -> None:
    database = sqlite(tmp_path / "record.sqlite3")

    pragmas = asked_of(database)

    assert pragmas == ["wal", 2, 1]
    database.close()


@pytest.mark.parametrize(
    ("pragma", "told"),
    [
        ("synchronous=NORMAL", "synchronous is 1 where 2 is needed"),
        ("synchronous=OFF", "synchronous is 0 where 2 is needed"),
        ("journal_mode=DELETE", "journal_mode is delete where wal is needed"),
        ("foreign_keys=OFF", "foreign_keys is 0 where 1 is needed"),
    ],
)
def test_a_file_written_in_a_way_that_loses_commits_is_refused(tmp_path: Path, pragma: str, told: str) -> None:
    database = sqlite(tmp_path / "record.sqlite3", f"{SQLITE_OPTIONS['init_command']}PRAGMA {pragma};")

    with pytest.raises(NotDurable, match=told):
        database.ensure_connection()

    assert database.connection is None


def test_a_database_in_memory_is_refused() -> None:
    with pytest.raises(NotDurable, match="journal_mode is memory where wal is needed"):
        sqlite(":memory:").ensure_connection()


@pytest.mark.parametrize("commit", ["on", "local", "remote_write", "remote_apply"])
def test_a_server_that_syncs_before_it_answers_is_taken(commit: str) -> None:
    refuse_postgresql(SAFE | {"synchronous_commit": commit})


@pytest.mark.parametrize(
    ("setting", "told"),
    [
        ({"fsync": "off"}, "fsync is off. Set fsync to on"),
        ({"full_page_writes": "off"}, "full_page_writes is off. Set full_page_writes to on"),
        ({"synchronous_commit": "off"}, "synchronous_commit is off. Set synchronous_commit to on"),
    ],
)
def test_a_server_that_answers_before_it_syncs_is_refused(setting: dict[str, str], told: str) -> None:
    with pytest.raises(NotDurable, match=told):
        refuse_postgresql(SAFE | setting)


@pytest.mark.parametrize(
    ("setting", "told"),
    [
        ({"server_version_num": "130014"}, "PostgreSQL 13 is too old: 14 or later is needed"),
        ({"server_encoding": "LATIN1"}, "encoded as LATIN1, which has no room for every name"),
        ({"default_transaction_isolation": "serializable"}, "begins transactions as serializable: set default_trans"),
        ({"DateStyle": "German, DMY"}, "writes days as German, DMY: set DateStyle to 'ISO' for it and its user"),
    ],
)
def test_a_server_that_is_too_old_or_means_something_else_is_refused(setting: dict[str, str], told: str) -> None:
    with pytest.raises(ImproperlyConfigured, match=told):
        refuse_postgresql(SAFE | setting)


def test_a_connection_outlives_its_request_and_not_its_file(tmp_path: Path) -> None:
    path = tmp_path / "record.sqlite3"
    database = sqlite(path)
    database.ensure_connection()
    assert database.is_usable()

    path.rename(tmp_path / "put away.sqlite3")
    shutil.copy(tmp_path / "put away.sqlite3", path)

    assert not database.is_usable()
    database.close()
