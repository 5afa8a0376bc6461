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
    faults = []
    if read_back.get("fsync") != "on":
        faults.append(f"fsync is {read_back.get('fsync')} where on is needed")
    if read_back.get("synchronous_commit") not in POSTGRESQL_SAFE_COMMITS:
        faults.append(f"synchronous_commit is {read_back.get('synchronous_commit')}")
    if faults:
        raise NotDurable(
            f"this PostgreSQL server could lose what was acknowledged: {'; '.join(faults)}. Set fsync and"
            " synchronous_commit to on."
        )
