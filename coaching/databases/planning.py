"""How PostgreSQL is asked for many rows at once.

Right after a large load, in the same transaction, the server knows nothing yet of what is in the tables. It expects a
few rows, joins them one by one, and needs minutes where a join of whole tables needs a second.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from django.db import connection, transaction


@contextmanager
def joining_whole_tables() -> Iterator[None]:
    """Queries within join what they read whole, not row by row; a database without such a choice is left alone."""
    if connection.vendor != "postgresql":
        yield
        return
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("SET LOCAL enable_nestloop = off")
        yield
        cursor.execute("SET LOCAL enable_nestloop = on")
