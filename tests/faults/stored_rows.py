"""Everything that the database holds, as counts and one check sum of each table."""

from __future__ import annotations

import hashlib

from django.apps import apps
from django.db import connection

OURS = ("roster.", "coaching.")
Stored = dict[str, tuple[int, str]]


def stored_rows() -> Stored:
    tables = [model._meta.db_table for model in apps.get_models() if model.__module__.startswith(OURS)]
    with connection.cursor() as cursor:
        return {table: _summed(cursor, table) for table in tables}


def _summed(cursor, table: str) -> tuple[int, str]:
    cursor.execute(f"SELECT * FROM {connection.ops.quote_name(table)}")
    rows = sorted(map(repr, cursor.fetchall()))
    return len(rows), hashlib.sha256("\n".join(rows).encode("utf-8", "surrogatepass")).hexdigest()
