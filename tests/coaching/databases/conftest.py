from __future__ import annotations

import os
import uuid
from collections.abc import Iterator
from urllib.parse import urlsplit, urlunsplit

import pytest
from django.conf import settings

from tests.machine import leave_out_unless


@pytest.fixture
def server() -> str:
    """The address of the PostgreSQL server that the tests run on."""
    leave_out_unless(
        not settings.IS_EMBEDDED, "DATABASE_URL names no PostgreSQL server", required_by="MUSTER_SERVERS_REQUIRED"
    )
    return os.environ["DATABASE_URL"]


@pytest.fixture
def new_database(server: str) -> Iterator[str]:
    """The address of an empty database of its own."""
    yield from made_database(server)


@pytest.fixture
def narrow_database(server: str) -> Iterator[str]:
    """One that takes bytes, and knows no letters."""
    yield from made_database(server, "ENCODING 'SQL_ASCII' LOCALE_PROVIDER libc LOCALE 'C' TEMPLATE template0")


def made_database(server: str, how: str = "") -> Iterator[str]:
    import psycopg

    name = f"muster_{uuid.uuid4().hex}"
    with psycopg.connect(server, autocommit=True) as connection:
        connection.execute(f'CREATE DATABASE "{name}" {how}')
        yield urlunsplit(urlsplit(server)._replace(path=f"/{name}"))
        connection.execute(f'DROP DATABASE "{name}" WITH (FORCE)')
