"""How the desk reaches its database, an SQLite file or a PostgreSQL server with a pool of connections; and its counts.

Where the server or the store of counts does not answer, nobody waits long to be told.
"""

from __future__ import annotations

from typing import Any

import environ
from django.core.exceptions import ImproperlyConfigured

# Ours read back how the database writes, and refuse one that could lose what it acknowledged.
DURABLE_ENGINES = {
    "django.db.backends.sqlite3": "coaching.databases.sqlite",
    "django.db.backends.postgresql": "coaching.databases.postgresql",
}
# WAL with synchronous=FULL is the setting that loses no acknowledged commit at a power cut;
# IMMEDIATE takes the write lock at the start, so that two writers wait instead of failing.
SQLITE_OPTIONS: dict[str, Any] = {
    "transaction_mode": "IMMEDIATE",
    "timeout": 20,
    "init_command": (
        "PRAGMA journal_mode=WAL;PRAGMA synchronous=FULL;PRAGMA mmap_size=134217728;"
        "PRAGMA cache_size=-16000;PRAGMA temp_store=MEMORY;"
    ),
}
# A thread holds one connection at most: a pool of this size serves so many threads of one process without waiting.
CONNECTIONS_OF_A_PROCESS = 16
# So nobody waits for one, unless the server takes none: then every page would wait as long as this to say so.
SECONDS_TO_CONNECT = 5
SECONDS_FOR_A_FREE_CONNECTION = 5
# A count is asked for before anything else; a store that hangs must not hang the desk.
SECONDS_FOR_A_SHARED_VALUE = 2
# So many that nobody empties the counts of others by filling the table.
MOST_SHARED_VALUES = 100_000
_CACHES = "django.core.cache.backends"


def database(url: str) -> dict[str, Any]:
    configured: dict[str, Any] = environ.Env.db_url_config(url)
    engine = configured.get("ENGINE", "")
    if engine not in DURABLE_ENGINES:
        raise ImproperlyConfigured("DATABASE_URL names neither SQLite nor PostgreSQL")
    how = _sqlite() if engine.endswith("sqlite3") else _postgresql(configured.get("OPTIONS", {}))
    return configured | how | {"ENGINE": DURABLE_ENGINES[engine], "CONN_HEALTH_CHECKS": True}


def _sqlite() -> dict[str, Any]:
    # Opening the file anew for each request costs more than most requests read.
    return {"OPTIONS": SQLITE_OPTIONS, "CONN_MAX_AGE": None}


def _postgresql(given: dict[str, Any]) -> dict[str, Any]:
    pool = {"min_size": 1, "max_size": CONNECTIONS_OF_A_PROCESS, "timeout": SECONDS_FOR_A_FREE_CONNECTION}
    return {"OPTIONS": {"connect_timeout": SECONDS_TO_CONNECT} | given | {"pool": pool}, "CONN_MAX_AGE": 0}


def shared_values(url: str) -> dict[str, Any]:
    """Where processes share what they count: a Redis server, or a table of the database."""
    if not url:
        options = {"MAX_ENTRIES": MOST_SHARED_VALUES}
        return {"BACKEND": f"{_CACHES}.db.DatabaseCache", "LOCATION": "shared_values", "OPTIONS": options}
    soon = dict.fromkeys(("socket_connect_timeout", "socket_timeout"), SECONDS_FOR_A_SHARED_VALUE)
    return {"BACKEND": f"{_CACHES}.redis.RedisCache", "LOCATION": url, "OPTIONS": soon}
