"""What the child that reads a file can no longer do: each tried in a process that has given it up.

The file is read by parsers that are trusted not to try. Were one of them wrong, this is what stands in its way.
"""

from __future__ import annotations

import os
import socket
import subprocess
import sys
from collections.abc import Iterator

import pytest

from roster.tables.limits import UPLOAD_LIMITS
from tests.repository import ROOT

CONFINED = """
import json, sys
from roster.tables import confinement, parsing
from roster.tables.limits import UPLOAD_LIMITS
import {modules}
parsing.load_nothing_needless()
is_apart = confinement.leave_the_network()
confinement.bound_resources(0, UPLOAD_LIMITS)
confinement.forbid_the_rest()
try:
    {attempt}
    print("done")
except BaseException as error:
    print(type(error).__name__)
"""


def _outcome(attempt: str, modules: str = "os, socket, subprocess, urllib.request") -> str:
    program = CONFINED.format(attempt=attempt, modules=modules)
    found = subprocess.run(
        [sys.executable, "-c", program], cwd=ROOT, env={"PATH": os.environ["PATH"]}, capture_output=True, check=False
    )
    return found.stdout.decode().strip() or f"ended with {found.returncode}"


@pytest.mark.parametrize(
    "attempt",
    [
        "socket.create_connection(('127.0.0.1', 9))",
        "socket.socket()",
        "socket.getaddrinfo('example.org', 80)",
        "urllib.request.urlopen('http://127.0.0.1:9/')",
        "subprocess.run(['true'])",
        "os.system('true')",
        "os.fork()",
        "os.remove('gone')",
        "open('/etc/passwd')",
        "open('manage.py')",
        "open('made', 'w')",
        "os.open('made', os.O_CREAT | os.O_WRONLY)",
        "os.rename('a', 'b')",
    ],
)
def test_what_no_reading_needs_is_forbidden(attempt: str):
    assert _outcome(attempt) == "Forbidden"


def test_modules_of_the_interpreter_can_still_be_loaded():
    assert _outcome("import decimal, encodings.cp1252, openpyxl.chart") == "done"


def test_memory_without_end_is_refused():
    assert _outcome("kept = bytearray(UPLOAD_LIMITS.memory_bytes)") == "MemoryError"


def test_time_without_end_is_cut_off():
    """ASVS 5.0 15.2.2"""
    program = CONFINED.format(attempt="while True: pass", modules="os").replace("UPLOAD_LIMITS)", "QUICK)")
    quick = "from dataclasses import replace\nfrom roster.tables.limits import UPLOAD_LIMITS\n"
    quick += "QUICK = replace(UPLOAD_LIMITS, cpu_seconds=1)\n"

    found = subprocess.run([sys.executable, "-c", quick + program], cwd=ROOT, capture_output=True, check=False)

    assert found.returncode < 0


@pytest.fixture
def listener() -> Iterator[socket.socket]:
    with socket.create_server(("127.0.0.1", 0)) as listening:
        listening.settimeout(0.2)
        yield listening


def _try_to_connect(port: int, *, apart: bool) -> str:
    program = f"""
import socket
from roster.tables.confinement import leave_the_network
is_apart = {apart} and leave_the_network()
try:
    socket.create_connection(("127.0.0.1", {port}), timeout=1).close()
    print("reached", is_apart)
except OSError:
    print("cut off", is_apart)
"""
    return subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, check=True).stdout.decode()


def test_where_the_system_allows_it_the_network_has_no_way_out(listener: socket.socket):
    port = listener.getsockname()[1]

    reached, apart = (_try_to_connect(port, apart=apart).split() for apart in (False, True))

    assert reached == ["reached", "False"]
    # A system that gives nobody a network of their own leaves it to the hook.
    assert apart in (["cut", "off", "True"], ["reached", "False"])


def test_the_child_loads_neither_the_framework_nor_frames():
    program = (
        "import sys; from roster.tables import parsing; parsing.load_nothing_needless();"
        "import roster.tables.workbooks;"
        "print(*{name.partition('.')[0] for name, module in sys.modules.items() if module})"
    )

    loaded = subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, check=True).stdout.decode()

    assert {"openpyxl", "defusedxml"} <= set(loaded.split())
    assert not {"django", "pandas", "numpy", "lxml", "coaching", "analytics"} & set(loaded.split())


def test_the_limits_of_an_upload_are_the_agreed_ones():
    """ASVS 5.0 5.1.1"""
    agreed = {
        "memory_bytes": 300_000_000, "cpu_seconds": 5, "file_bytes": 10_000_000, "unpacked_bytes": 50_000_000,
        "workbook_members": 200, "rows": 20_000, "columns": 200,
    }  # fmt: skip

    assert {name: getattr(UPLOAD_LIMITS, name) for name in agreed} == agreed
