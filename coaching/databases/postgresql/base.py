from __future__ import annotations

from typing import Any
from weakref import WeakSet

from django.db.backends.postgresql import base

from coaching.databases.durability import POSTGRESQL_READ_BACK, refuse_postgresql

# Connections wait in a pool between requests: each is asked once, when it is new.
_ASKED: WeakSet[Any] = WeakSet()


class DatabaseWrapper(base.DatabaseWrapper):
    """PostgreSQL that is not spoken to unless it keeps what it acknowledges, and takes every letter."""

    def get_new_connection(self, conn_params: dict[str, Any]) -> Any:
        # A pool that can't connect tries on and tells nothing but that it took too long: the first try is without it.
        if self.pool and self.pool.closed:
            self.Database.connect(**conn_params).close()
        return super().get_new_connection(conn_params)

    def init_connection_state(self) -> None:
        if self.connection not in _ASKED:
            try:
                refuse_postgresql(self._settings_of_the_server())
            except BaseException:
                self.close()
                raise
            _ASKED.add(self.connection)
        super().init_connection_state()

    def check_database_version_supported(self) -> None:
        """Already told, in one line, by what the server answered."""

    def _settings_of_the_server(self) -> dict[str, str]:
        with self.connection.cursor() as cursor:
            cursor.execute("SELECT name, setting FROM pg_settings WHERE name = ANY(%s)", [list(POSTGRESQL_READ_BACK)])
            return dict(cursor.fetchall())
