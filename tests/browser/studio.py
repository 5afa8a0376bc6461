"""Makes the studio once for all who run at the same time, and serves a copy of it to whoever asks."""

from __future__ import annotations

import fcntl
import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit, urlunsplit

from tests.browser.serving import DAY
from tests.repository import ROOT

# Enough people for a finding of each pile, few enough to be there in seconds.
CLIENTS, WEEKS = 14, 26
SERVER = os.environ.get("DATABASE_URL", "")
# Counts that processes share would be shared by studios that have nothing to do with each other.
NOT_HANDED_ON = {"DATABASE_URL", "REDIS_URL", "DEBUG", "HTTPS", "ALLOWED_HOSTS", "MUSTER_HOME"}


@dataclass(frozen=True)
class Desk:
    """A desk that is being served."""

    address: str
    sessions: dict[str, str]
    places: dict[str, str]
    day = DAY

    def path(self, address: str) -> str:
        return address.format(**self.places)

    def url(self, address: str) -> str:
        return self.address + self.path(address)


@dataclass(frozen=True)
class Studio:
    """A database with a studio in it: a folder, and on a database server a name."""

    home: Path
    database: str

    @property
    def environment(self) -> dict[str, str]:
        kept = {name: text for name, text in os.environ.items() if name not in NOT_HANDED_ON}
        url = {"DATABASE_URL": urlunsplit(urlsplit(SERVER)._replace(path=f"/{self.database}"))} if SERVER else {}
        return kept | url | {"MUSTER_HOME": str(self.home)}


def is_on_a_server() -> bool:
    return SERVER.startswith("postgres")


def made_studio(shared: Path, name: str, clients: int = CLIENTS, weeks: int = WEEKS) -> Studio:
    """The one that all copies are made of; whoever comes first makes it."""
    studio = Studio(shared / "studio", f"muster_{name}")
    with _alone(shared):
        if not studio.home.exists():
            studio.home.mkdir()
            _ask_server(f'CREATE DATABASE "{studio.database}"')
            subprocess.run(
                [sys.executable, "-m", "tests.browser.serving", "make", str(clients), str(weeks)],
                cwd=ROOT, env=studio.environment, check=True,
            )  # fmt: skip
    return studio


@contextmanager
def served(studio: Studio, home: Path, name: str) -> Iterator[Desk]:
    """A copy of its own, gone afterwards."""
    copy = _copy(studio, home, name)
    with _desk_process(copy) as process:
        assert process.stdout is not None
        told = process.stdout.readline()
        if not told:
            raise RuntimeError(f"the desk did not start: {(copy.home / 'server.log').read_text()}")
        yield Desk(**json.loads(told))
    _ask_server(f'DROP DATABASE "{copy.database}"')


def _copy(studio: Studio, home: Path, name: str) -> Studio:
    shutil.copytree(studio.home, home)
    copy = Studio(home, f"{studio.database}_{name}")
    with _alone(studio.home.parent):
        _ask_server(f'CREATE DATABASE "{copy.database}" TEMPLATE "{studio.database}"')
    return copy


@contextmanager
def _desk_process(studio: Studio) -> Iterator[subprocess.Popen[str]]:
    with (studio.home / "server.log").open("w") as log:
        process = subprocess.Popen(
            [sys.executable, "-m", "tests.browser.serving", "serve"],
            cwd=ROOT, env=studio.environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=log, text=True,
        )  # fmt: skip
        try:
            yield process
        finally:
            process.kill()
            process.communicate()


@contextmanager
def _alone(shared: Path) -> Iterator[None]:
    with (shared / "studio.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield


def _ask_server(words: str) -> None:
    if is_on_a_server():
        import psycopg

        with psycopg.connect(SERVER, autocommit=True) as connection:
            connection.execute(words)
