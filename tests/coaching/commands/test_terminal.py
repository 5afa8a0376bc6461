"""What a command shows on a terminal, how it exits, and what its help says."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import call_command

from coaching.management import progress as progress_module
from coaching.management.progress import CLEAR_LINE, TerminalProgress
from roster.people.models import Client

ROOT = Path(__file__).resolve().parents[3]
COMMANDS = ["open_studio", "load_clients", "load_blocks", "load_logs"]


class Stream:
    def __init__(self, *, is_terminal: bool) -> None:
        self.is_terminal = is_terminal
        self.text = ""

    def isatty(self) -> bool:
        return self.is_terminal

    def flush(self) -> None:
        pass

    def write(self, msg: str, style_func: None = None, ending: str | None = None) -> None:
        self.text += msg


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_progress_is_one_line_that_is_cleared_in_the_end():
    stream = Stream(is_terminal=True)

    with TerminalProgress(stream) as progress:
        progress("rows read", 1500)

    assert stream.text == f"{CLEAR_LINE}1,500 rows read{CLEAR_LINE}"


def test_progress_is_not_written_more_often_than_it_can_be_read(monkeypatch: pytest.MonkeyPatch):
    clock = [10.0]
    monkeypatch.setattr(progress_module.time, "monotonic", lambda: clock[0])
    stream = Stream(is_terminal=True)

    with TerminalProgress(stream) as progress:
        for seconds, count in [(10.0, 1), (10.1, 2), (10.3, 3)]:
            clock[0] = seconds
            progress("rows read", count)

    assert stream.text == f"{CLEAR_LINE}1 rows read{CLEAR_LINE}3 rows read{CLEAR_LINE}"


def test_the_next_thing_that_is_done_is_shown_at_once():
    stream = Stream(is_terminal=True)

    with TerminalProgress(stream) as progress:
        progress("rows read", 5)
        progress("clients to compute anew", 2)

    assert stream.text == f"{CLEAR_LINE}5 rows read{CLEAR_LINE}2 clients to compute anew{CLEAR_LINE}"


def test_a_line_that_stays_takes_the_place_of_what_is_shown():
    stream = Stream(is_terminal=True)

    with TerminalProgress(stream) as progress:
        progress("rows read", 5)
        progress.clear()
        stream.write("Loaded.\n")

    assert stream.text == f"{CLEAR_LINE}5 rows read{CLEAR_LINE}Loaded.\n"


def test_a_count_is_shown_before_the_first_is_done():
    stream = Stream(is_terminal=True)

    with TerminalProgress(stream) as progress:
        progress.counting("clients computed anew")
        assert stream.text == f"{CLEAR_LINE}0 clients computed anew"


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["check_ins", "--off"], "clients computed anew"),
        (["reassess"], "clients computed anew"),
        (["run_due"], "clients computed anew"),
        (["export", "weeks"], "rows computed"),
        (["check_in_pack", "--all", "--form", "csv", "--out"], "packs looked at"),
        (["simulate_roster", "--clients", "1", "--out"], "clients invented"),
    ],
    ids=lambda given: given[0] if isinstance(given, list) else "",
)
def test_what_may_take_long_shows_how_far_it_is_on_a_terminal_and_nowhere_else(
    client: Client, tmp_path: Path, arguments: list[str], told: str
):
    more = [str(tmp_path / "out")] if arguments[-1] == "--out" else []
    shown, quiet = Terminal(), io.StringIO()

    for stream in (shown, quiet):
        call_command(*arguments, *more, stdout=io.StringIO(), stderr=stream)

    assert f"{CLEAR_LINE}0 {told}" in shown.getvalue()
    assert CLEAR_LINE not in quiet.getvalue()


def test_where_no_terminal_is_there_is_no_progress():
    stream = Stream(is_terminal=False)

    with TerminalProgress(stream) as progress:
        progress("rows read", 1500)

    assert stream.text == ""


def _manage(directory: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "MUSTER_HOME": str(directory), "DJANGO_SETTINGS_MODULE": "tests.settings"}
    environment.pop("DATABASE_URL", None)
    command = [sys.executable, "manage.py", *arguments]
    return subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False)


@pytest.mark.parametrize("command", COMMANDS)
def test_help_has_an_example_on_a_line_of_its_own(tmp_path: Path, command: str):
    ended = _manage(tmp_path, command, "--help")

    assert ended.returncode == 0
    assert f"\n  python manage.py {command} " in ended.stdout or "\n  OWNER_PASSWORD=" in ended.stdout


@pytest.mark.parametrize("arguments", [["load_clients"], ["load_logs", "x.csv", "--what"], ["open_studio", "North"]])
def test_bad_usage_exits_with_two_and_says_so_on_standard_error(tmp_path: Path, arguments: list[str]):
    ended = _manage(tmp_path, *arguments)

    assert (ended.returncode, ended.stdout) == (2, "")
    assert "error:" in ended.stderr


def test_a_database_without_tables_is_no_stack_trace(tmp_path: Path):
    ended = _manage(tmp_path, "load_clients", "x.csv")

    assert (ended.returncode, ended.stdout) == (2, "")
    assert ended.stderr == "Refused: the database has no tables yet: run “python manage.py migrate” first\n"
