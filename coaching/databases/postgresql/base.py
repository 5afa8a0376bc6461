from __future__ import annotations

from django.db.backends.postgresql import base

from coaching.databases.durability import refuse_postgresql

READ_BACK = ("fsync", "synchronous_commit")


class DatabaseWrapper(base.DatabaseWrapper):
    """PostgreSQL that is not spoken to unless it keeps what it acknowledges."""

    def init_connection_state(self) -> None:
        super().init_connection_state()
        try:
            refuse_postgresql({name: self._answer(f"SHOW {name}") for name in READ_BACK})
        except BaseException:
            self.close()
            raise

    def _answer(self, question: str) -> str:
        with self.cursor() as cursor:
            cursor.execute(question)
            return str(cursor.fetchone()[0])
