from __future__ import annotations

from sqlite3 import Connection
from typing import Any

from django.db.backends.sqlite3 import base

from coaching.databases.durability import SQLITE_WANTED, refuse_sqlite


class DatabaseWrapper(base.DatabaseWrapper):
    """SQLite that is not spoken to unless it keeps what it acknowledges."""

    def get_new_connection(self, conn_params: dict[str, Any]) -> Connection:
        connection: Connection = super().get_new_connection(conn_params)
        read_back = {name: str(connection.execute(f"PRAGMA {name}").fetchone()[0]) for name in SQLITE_WANTED}
        try:
            refuse_sqlite(read_back)
        except BaseException:
            connection.close()
            raise
        return connection
