"""When a commit counts as kept: on disk, and there after a power cut.

WAL with synchronous=FULL is what keeps it on SQLite; a file system without shared memory quietly stays at another
journal, which is why the settings are read back rather than trusted.
"""

from __future__ import annotations

from collections.abc import Mapping

from django.core.exceptions import ImproperlyConfigured

SQLITE_WANTED = {"journal_mode": "wal", "synchronous": "2", "foreign_keys": "1"}
# With each of these a commit is on the server's own disk before it is acknowledged.
POSTGRESQL_SAFE_COMMITS = ("on", "remote_apply", "local", "remote_write")
POSTGRESQL_READ_BACK = (
    "fsync", "full_page_writes", "synchronous_commit", "server_encoding", "server_version_num",
    "default_transaction_isolation", "DateStyle",
)  # fmt: skip
# Who waits for a lock must see what its holder wrote: at any other level that is a failure instead.
POSTGRESQL_ISOLATION = "read committed"
# In the others the driver reads no instants.
POSTGRESQL_DATES = "ISO"
# The oldest that the framework speaks to, as the server writes it.
POSTGRESQL_OLDEST = 140_000


class NotDurable(ImproperlyConfigured):
    """The database could lose what it has acknowledged; the message says why."""


def refuse_sqlite(read_back: Mapping[str, str]) -> None:
    """`read_back` holds the pragmas as SQLite answers them."""
    faults = [
        f"{name} is {read_back.get(name)} where {value} is needed"
        for name, value in SQLITE_WANTED.items()
        if read_back.get(name) != value
    ]
    if faults:
        raise NotDurable(
            f"this SQLite database could lose what was acknowledged: {'; '.join(faults)}. Keep it in a file on a disk"
            " of this machine (not in memory, not on a network share): MUSTER_HOME says where."
        )


def refuse_postgresql(read_back: Mapping[str, str]) -> None:
    """`read_back` holds the server's settings, by POSTGRESQL_READ_BACK."""
    version = int(read_back["server_version_num"])
    if version < POSTGRESQL_OLDEST:
        raise ImproperlyConfigured(
            f"PostgreSQL {version // 10_000} is too old: {POSTGRESQL_OLDEST // 10_000} or later is needed"
        )
    if read_back["server_encoding"] != "UTF8":
        raise ImproperlyConfigured(
            f"this PostgreSQL database is encoded as {read_back['server_encoding']}, which has no room for every name:"
            " create it with ENCODING 'UTF8'"
        )
    _refuse_other_meanings(read_back)
    _refuse_forgetting(read_back)


def _refuse_other_meanings(read_back: Mapping[str, str]) -> None:
    """What somebody may have set for the database or its user, and would change what is written or read."""
    found, dates = read_back["default_transaction_isolation"], read_back["DateStyle"]
    if found != POSTGRESQL_ISOLATION:
        raise ImproperlyConfigured(
            f"this PostgreSQL database begins transactions as {found}: set default_transaction_isolation to"
            f" '{POSTGRESQL_ISOLATION}' for it and its user"
        )
    if not dates.startswith(POSTGRESQL_DATES):
        raise ImproperlyConfigured(
            f"this PostgreSQL database writes days as {dates}: set DateStyle to '{POSTGRESQL_DATES}' for it and its"
            " user"
        )


def _refuse_forgetting(read_back: Mapping[str, str]) -> None:
    wanted = {"fsync": ("on",), "full_page_writes": ("on",), "synchronous_commit": POSTGRESQL_SAFE_COMMITS}
    faults = [f"{name} is {read_back[name]}" for name, safe in wanted.items() if read_back[name] not in safe]
    if faults:
        raise NotDurable(
            f"this PostgreSQL server could lose what was acknowledged: {'; '.join(faults)}. Set"
            f" {', '.join(fault.split()[0] for fault in faults)} to on."
        )
