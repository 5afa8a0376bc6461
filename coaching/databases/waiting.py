"""How long a statement may wait for whoever else is writing."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from django.db import connection


@contextmanager
def waiting_at_most(seconds: int) -> Iterator[None]:
    """Outside a transaction; afterwards as before."""
    shorter, as_before = _WORDS[connection.vendor]
    with connection.cursor() as cursor:
        cursor.execute(shorter.format(milliseconds=seconds * 1000))
    try:
        yield
    finally:
        with connection.cursor() as cursor:
            cursor.execute(as_before.format(milliseconds=connection.settings_dict["OPTIONS"].get("timeout", 5) * 1000))


_WORDS = {
    "sqlite": ("PRAGMA busy_timeout = {milliseconds}", "PRAGMA busy_timeout = {milliseconds}"),
    "postgresql": ("SET statement_timeout = {milliseconds}", "RESET statement_timeout"),
}
