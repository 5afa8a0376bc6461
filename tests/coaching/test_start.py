"""What a start refuses, in a process of its own: one clear line, and nothing is served."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings

LONG_KEY = "a-key-of-fifty-characters-or-more-for-this-one-test-alone"
SERVER = "postgres://muster@db.example/muster"


def run(tmp_path: Path, *command: str, **environment: str) -> subprocess.CompletedProcess[str]:
    kept = {name: os.environ[name] for name in ("PATH", "SYSTEMROOT") if name in os.environ}
    return subprocess.run(
        [sys.executable, *command],
        cwd=settings.BASE_DIR,
        env=kept | {"MUSTER_HOME": str(tmp_path)} | environment,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


@pytest.mark.parametrize(
    ("environment", "told"),
    [
        ({"DATABASE_URL": SERVER}, "with a database server in DATABASE_URL, SECRET_KEY must be given too"),
        ({"SECRET_KEY": "short"}, "SECRET_KEY is too short: 50 random characters at least"),
        ({"DATABASE_URL": "mysql://x/y", "SECRET_KEY": LONG_KEY}, "DATABASE_URL names neither SQLite nor PostgreSQL"),
        ({"DATABASE_URL": "sqlite://:memory:"}, "journal_mode is memory where wal is needed"),
    ],
)
def test_a_command_that_must_not_run_says_why_in_one_line(
    tmp_path: Path, environment: dict[str, str], told: str
) -> None:
    ran = run(tmp_path, "manage.py", "migrate", **environment)

    assert ran.returncode == 2
    assert told in ran.stderr
    assert ran.stderr.count("\n") == 1


def test_a_server_process_does_not_start_on_a_database_that_forgets(tmp_path: Path) -> None:
    ran = run(tmp_path, "-c", "import coaching.wsgi", DATABASE_URL="sqlite://:memory:")

    assert ran.returncode != 0
    assert ran.stderr.startswith("Muster is not served: this SQLite database could lose what was acknowledged")
    assert ran.stderr.count("\n") == 1


def test_a_server_process_with_a_setting_that_must_not_be_says_so_in_one_line(tmp_path: Path) -> None:
    ran = run(tmp_path, "-c", "import coaching.wsgi", SECRET_KEY="short")

    assert ran.returncode != 0
    assert ran.stderr == "Muster is not served: SECRET_KEY is too short: 50 random characters at least\n"


def test_a_server_process_starts_on_an_embedded_database(tmp_path: Path) -> None:
    ran = run(tmp_path, "-c", "import coaching.wsgi")

    assert (ran.returncode, ran.stderr) == (0, "")


def test_the_key_of_an_embedded_database_is_made_once_and_is_its_owners_alone(tmp_path: Path) -> None:
    """ASVS 5.0 13.3.1, 11.5.1"""
    show = ("-c", "from coaching import settings; print(settings.SECRET_KEY)")

    keys = {run(tmp_path, *show).stdout.strip() for _ in range(2)}

    kept = tmp_path / "secret_key"
    assert keys == {kept.read_text()}
    assert len(kept.read_text()) >= 50
    assert kept.stat().st_mode & 0o077 == 0


def test_processes_that_start_together_agree_on_the_key(tmp_path: Path) -> None:
    show = [sys.executable, "-c", "from coaching import settings; print(settings.SECRET_KEY)"]
    environment = {"PATH": os.environ["PATH"], "MUSTER_HOME": str(tmp_path / "new")}

    started = [
        subprocess.Popen(show, cwd=settings.BASE_DIR, env=environment, stdout=subprocess.PIPE, text=True)
        for _ in range(4)
    ]

    assert len({process.communicate(timeout=60)[0] for process in started}) == 1


def test_served_over_https_nothing_is_left_for_the_framework_to_warn_of(tmp_path: Path) -> None:
    """ASVS 5.0 13.4.2"""
    ran = run(tmp_path, "manage.py", "check", "--deploy", "--fail-level", "WARNING", HTTPS="1", SECRET_KEY=LONG_KEY)

    assert ran.returncode == 0
    assert "no issues (0 silenced)" in ran.stdout + ran.stderr
