"""Whatever becomes of the child that reads a file, the file is read or refused in one line."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from roster.tables import child
from roster.tables.faults import UNREADABLE, FileRefused
from roster.tables.headers import Columns
from roster.tables.limits import UPLOAD_LIMITS
from roster.tables.reading import read_table
from roster.tables.table import Table
from tests.roster.tables.files import write_csv

COLUMNS = Columns(known=("client", "load"), required=("client",))
QUICK = replace(UPLOAD_LIMITS, cpu_seconds=1)
ReadFrom = Callable[..., Table]


@pytest.fixture
def read_from(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> ReadFrom:
    """Reads a good file with a program of one's own in the place of the child."""

    def read(program: str, limits=UPLOAD_LIMITS) -> Table:
        script = tmp_path / "child.py"
        script.write_text(f"import os, sys, time, json, signal\n{program}")
        stand_in = tmp_path / "python"
        stand_in.write_text(f"#!/bin/sh\nexec {sys.executable} {script}\n")
        stand_in.chmod(0o755)
        monkeypatch.setattr(child.sys, "executable", str(stand_in))
        return read_table(write_csv(tmp_path / "logs.csv", "client,load\nana,20\n"), COLUMNS, limits)

    return read


HEADER = """print(json.dumps({"rows": [[1, ["client", "load"]], [2, ["ana", "20"]]]}), flush=True)\n"""


def test_a_child_that_says_what_it_should_is_believed(read_from: ReadFrom):
    table = read_from(HEADER + """print('{"end": true}')""")

    assert [row.cells for row in table.rows] == [("ana", "20")]


@pytest.mark.parametrize(
    "end",
    [
        "sys.exit(1)",
        "sys.exit(0)",
        "os.kill(os.getpid(), signal.SIGKILL)",
        "os.kill(os.getpid(), signal.SIGSEGV)",
        "sys.stdout.write('{\"rows\": [[3, [\"b')",
    ],
    ids=["fails", "ends early", "is killed", "crashes", "is cut off"],
)
def test_a_child_that_stops_before_its_last_word_refuses_the_file(read_from: ReadFrom, end: str):
    with pytest.raises(FileRefused) as refused:
        read_from(HEADER + end)

    assert str(refused.value.fault) == UNREADABLE


@pytest.mark.parametrize(
    "said",
    [
        "Traceback (most recent call last):", "\x00\xff", "[]", "7", "null", '"end"', "{", '{"rows": 7}',
        '{"rows": [7]}',
        '{"rows": [[1, 7]]}', '{"rows": [[1, [7]]]}', '{"rows": [["one", ["a"]]]}', '{"rows": [[1, [["2026-99-99"]]]]}',
        '{"rows": [[1, [["a", "b", "c"]]]]}', '{"sheet": 1}', '{"refused": "x"}', '{"refused": [1, "x", 2, 3]}',
        '{"rows": [[1, [null]]]}', '{"rows": [[1, [{}]]]}', "[" * 100_000,
    ],
)  # fmt: skip
def test_a_child_that_says_nonsense_refuses_the_file(read_from: ReadFrom, said: str):
    with pytest.raises(FileRefused) as refused:
        read_from(f"print({said!r})\nprint('{{\"end\": true}}')")

    assert "\n" not in str(refused.value.fault)
    assert refused.value.fault.reason in (UNREADABLE, "is empty")


def test_a_child_that_says_too_much_is_stopped(read_from: ReadFrom):
    limits = replace(UPLOAD_LIMITS, file_bytes=1000, unpacked_bytes=1000, rows=10, cells=10)

    with pytest.raises(FileRefused, match=UNREADABLE):
        read_from("while True: print(json.dumps({'rows': [[1, ['client']]]}))", limits)


@pytest.mark.parametrize("loop", ["time.sleep(60)", "while True: pass"])
def test_a_child_that_hangs_is_stopped(read_from: ReadFrom, loop: str):
    with pytest.raises(FileRefused, match="took longer to read than the 1 s"):
        read_from(HEADER + loop, QUICK)


def test_a_child_that_can_not_be_started_refuses_the_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(child.sys, "executable", str(tmp_path / "gone"))

    with pytest.raises(FileRefused, match="short of memory or processes"):
        read_table(write_csv(tmp_path / "logs.csv", "client\nana\n"), COLUMNS)


def test_the_child_is_given_none_of_our_secrets(read_from: ReadFrom, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("SECRET_KEY", "s3cret")
    monkeypatch.setenv("DATABASE_URL", "postgres://u:s3cret@h/d")

    table = read_from(
        """cells = ["client", *os.environ.values()]\n"""
        """print(json.dumps({"rows": [[1, ["client"]], [2, [" ".join(os.environ.values())]]]}))\n"""
        """print('{"end": true}')"""
    )

    assert "s3cret" not in table.rows[0].cells[0]
    assert os.environ["PATH"] in table.rows[0].cells[0]


def test_the_child_is_given_the_open_file_and_no_path(read_from: ReadFrom):
    program = """print(json.dumps({"rows": [[1, ["client"]], [2, [sys.stdin.read()]]]}))\nprint('{"end": true}')"""

    table = read_from(program)

    assert table.rows[0].cells == ("client,load\nana,20\n",)
    assert json.loads(child.arguments_for(UPLOAD_LIMITS)[0])["rows"] == UPLOAD_LIMITS.rows
