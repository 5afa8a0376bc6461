from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from coaching.demo.cast import OWNER
from tests.crash.coach import Desk
from tests.crash.server import Server, manage
from tests.machine import leave_out_unless


@pytest.fixture(scope="session")
def small_studio(tmp_path_factory: pytest.TempPathFactory) -> Path:
    home = tmp_path_factory.mktemp("faults") / "home"
    made = manage(home, "demo", "--no-serve", "--clients", "4", "--weeks", "12")
    assert made.returncode == 0, made.stderr
    return home


@pytest.fixture
def home(small_studio: Path, tmp_path: Path) -> Path:
    """A copy to be harmed."""
    return Path(shutil.copytree(small_studio, tmp_path / "home"))


@pytest.fixture
def serve(home: Path) -> Iterator[Callable[..., Server]]:
    started: list[Server] = []

    def start(**how: Any) -> Server:
        server = Server(home, **how)
        started.append(server)
        server.start()
        server.seconds_to_ready()
        return server

    yield start
    for server in started:
        server.kill()


# Whoever is not root becomes so in a world of their own, where the machine allows it.
ALONE = ("unshare", "-m") if os.geteuid() == 0 else ("unshare", "-rm")


@pytest.fixture
def small_disks() -> None:
    can_mount = shutil.which("unshare") and subprocess.run([*ALONE, "true"], check=False).returncode == 0
    leave_out_unless(bool(can_mount), "no disk can be mounted here", required_by="MUSTER_MOUNT_REQUIRED")


@pytest.fixture
def sign_in() -> Iterator[Callable[[Server], Desk]]:
    desks: list[Desk] = []

    def open_desk(server: Server) -> Desk:
        desks.append(Desk(server.port))
        desks[-1].sign_in(OWNER.email, OWNER.password)
        return desks[-1]

    yield open_desk
    for desk in desks:
        desk.close()
