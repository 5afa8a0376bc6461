"""The whole command, as somebody starts it: made, served, asked for a page, and stopped."""

from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Event

import pytest

from coaching.demo.cast import EVERYBODY
from coaching.demo.serving import find_port_fault, keep_time
from tests.machine import free_port

ROOT = Path(__file__).resolve().parents[3]
SECONDS_TO_STOP = 15


@contextmanager
def _demo(home: Path, port: int) -> Iterator[subprocess.Popen[str]]:
    words = ["demo", "--clients", "3", "--weeks", "12", "--port", str(port)]
    environment = {name: text for name, text in os.environ.items() if name != "DATABASE_URL"}
    environment |= {"MUSTER_HOME": str(home), "DJANGO_SETTINGS_MODULE": "coaching.settings"}
    process = subprocess.Popen(
        [sys.executable, "manage.py", *words],
        cwd=ROOT,
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    try:
        yield process
    finally:
        process.kill()
        process.communicate()


def _page(address: str) -> str:
    with urllib.request.urlopen(address, timeout=30) as answer:
        return str(answer.read().decode())


def _said_until_open(demo: subprocess.Popen[str]) -> str:
    """What the demo says up to the line that sends somebody to it: from then on it answers."""
    assert demo.stderr is not None
    said = ""
    for line in demo.stderr:
        said += line
        if line.startswith("Open "):
            return said
    raise AssertionError(f"the demo ended: {said}")


def test_the_demo_is_made_served_and_stopped_and_served_again(tmp_path: Path) -> None:
    port = free_port()
    address = f"http://127.0.0.1:{port}"

    with _demo(tmp_path, port) as demo:
        messages = _said_until_open(demo)
        page = _page(f"{address}/")
        style = _page(address + re.findall(r'href="(/static/[^"]+\.css)"', page)[0])
        demo.send_signal(signal.SIGTERM)
        data, _ = demo.communicate(timeout=SECONDS_TO_STOP)
    with _demo(tmp_path, port) as demo_again:
        messages_again = _said_until_open(demo_again)
        page_again = _page(f"{address}/")
        demo_again.send_signal(signal.SIGINT)
        demo_again.communicate(timeout=SECONDS_TO_STOP)

    assert (demo.returncode, demo_again.returncode) == (0, 0)
    assert "password" in page.casefold()
    assert "password" in page_again.casefold()
    assert "{" in style
    assert data == ""
    assert f"{address}/" in messages
    assert all(person.email in messages and person.password in messages for person in EVERYBODY)
    assert "Loaded" in messages
    assert "Loaded" not in messages_again
    assert (tmp_path / "demo" / "logs.csv").exists()


def test_a_port_that_is_taken_is_told_of_before_any_work() -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]

        fault = find_port_fault("127.0.0.1", port)

    assert fault is not None
    assert "--port" in fault


@pytest.mark.parametrize(("host", "port"), [("127.0.0.1", 70000), ("127.0.0.1", -1), ("no.such.host.invalid", 80)])
def test_an_address_that_is_none_is_told_of(host: str, port: int) -> None:
    assert find_port_fault(host, port) is not None


def test_a_free_port_has_no_fault() -> None:
    assert find_port_fault("127.0.0.1", free_port()) is None


def test_the_clock_goes_on_after_a_failure_and_stops_when_told() -> None:
    stopped, said, runs = Event(), [], []

    def run() -> None:
        runs.append(len(runs))
        if len(runs) == 1:
            raise RuntimeError("the disk is full")
        stopped.set()

    keep_time(stopped, run, said.append, seconds=0)

    assert runs == [0, 1]
    assert len(said) == 1
    assert "the disk is full" in said[0]
