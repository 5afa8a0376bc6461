from __future__ import annotations

import os
from contextlib import suppress
from sqlite3 import Connection
from typing import Any

from django.db.backends.sqlite3 import base, features

from coaching.databases.durability import SQLITE_WANTED, refuse_sqlite


class DatabaseFeatures(features.DatabaseFeatures):
    # The framework would try it out in a transaction, and remember for good that it failed while somebody was writing.
    supports_json_field = True


class DatabaseWrapper(base.DatabaseWrapper):
    """SQLite that is not spoken to unless it keeps what it acknowledges."""

    features_class = DatabaseFeatures
    _opened: tuple[int, int] | None = None

    def get_new_connection(self, conn_params: dict[str, Any]) -> Connection:
        connection: Connection = super().get_new_connection(conn_params)
        read_back = {name: str(connection.execute(f"PRAGMA {name}").fetchone()[0]) for name in SQLITE_WANTED}
        try:
            refuse_sqlite(read_back)
        except BaseException:
            connection.close()
            raise
        self._opened = self._file()
        return connection

    def is_usable(self) -> bool:
        """Connections outlive requests; one to a file that was since put away, or replaced, would write to nobody."""
        return self._file() == self._opened and super().is_usable()

    def _file(self) -> tuple[int, int] | None:
        with suppress(OSError):
            found = os.stat(self.settings_dict["NAME"])
            return found.st_dev, found.st_ino
        return None
