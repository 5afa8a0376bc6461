"""A database with rows from before they had public ids comes up to date: each gets one of its own, none is lost."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from tests.coaching.databases.upgrading import EXERCISES, SESSIONS
from tests.repository import ROOT

KEY = "a key of fifty characters or more, for the processes of this one test"
NAMED = [
    f"Exercise {EXERCISES} {EXERCISES} {EXERCISES}",
    "Block 1 1 1",
    f"PlannedSession {SESSIONS} {SESSIONS} {SESSIONS}",
    f"SessionLog {SESSIONS} {SESSIONS} {SESSIONS}",
]


def upgraded(home: Path, url: str) -> list[str]:
    environment = {"PATH": os.environ["PATH"], "DATABASE_URL": url, "SECRET_KEY": KEY, "MUSTER_HOME": str(home)}
    program = [sys.executable, "-m", "tests.coaching.databases.upgrading"]
    ran = subprocess.run(program, cwd=ROOT, env=environment, capture_output=True, text=True, timeout=300, check=False)
    assert ran.returncode == 0, ran.stderr
    return ran.stdout.splitlines()


def test_rows_of_the_embedded_database_get_their_ids_and_may_go_back(tmp_path: Path) -> None:
    assert upgraded(tmp_path, "") == [*NAMED, f"back {EXERCISES} 1 {SESSIONS} {SESSIONS}", *NAMED]


def test_so_do_rows_on_a_server(tmp_path: Path, new_database: str) -> None:
    assert upgraded(tmp_path, new_database) == [*NAMED, f"back {EXERCISES} 1 {SESSIONS} {SESSIONS}", *NAMED]
