"""Asked of the database before anything is served from it: that it is there, keeps what it takes, and is whole."""

from __future__ import annotations

from pathlib import Path

from django.core.exceptions import ImproperlyConfigured
from django.db import DatabaseError, InterfaceError
from django.db.backends.base.base import BaseDatabaseWrapper

from coaching.databases.faults import in_words

# Reading such a file whole takes some tenths of a second; a larger one is found out page by page.
LARGEST_READ_AT_START = 200_000_000


class DatabaseOutOfOrder(ImproperlyConfigured):
    """The desk can't be served from this database; the message says why, and what to do."""


def refuse_out_of_order(connection: BaseDatabaseWrapper) -> None:
    """Nothing is written, so that whatever can be saved stays as it is."""
    try:
        connection.ensure_connection()
        _refuse_damaged(connection)
    except (DatabaseError, InterfaceError) as error:
        raise DatabaseOutOfOrder(f"the database can't be used: {in_words(error)}") from error
    finally:
        connection.close()


def _refuse_damaged(connection: BaseDatabaseWrapper) -> None:
    name = Path(str(connection.settings_dict["NAME"]))
    if connection.vendor != "sqlite" or not name.is_file() or name.stat().st_size > LARGEST_READ_AT_START:
        return
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA quick_check(1)")
        found = cursor.fetchone()[0]
    if found != "ok":
        raise DatabaseOutOfOrder(f"the database file is damaged ({name.name}: {found}). Restore the latest backup.")
