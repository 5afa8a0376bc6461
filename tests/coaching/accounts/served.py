"""The product served by processes of its own, and visitors who reach it over the wire."""

from __future__ import annotations

import os
import re
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from http.cookiejar import CookieJar
from pathlib import Path
from urllib.parse import urlencode
from urllib.request import HTTPCookieProcessor, Request, build_opener

from django.conf import settings

from tests.machine import free_port

SECONDS_TO_START = 60
TOKEN = re.compile(r'name="csrfmiddlewaretoken" value="(\w+)"')


def environment(home: Path, **more: str) -> dict[str, str]:
    kept = {name: os.environ[name] for name in ("PATH", "REDIS_URL") if name in os.environ}
    return kept | {"MUSTER_HOME": str(home), "PROXIES": "1"} | more


def manage(home: Path, *command: str, **more: str) -> None:
    arguments = [sys.executable, "manage.py", *command]
    subprocess.run(arguments, cwd=settings.BASE_DIR, env=environment(home, **more), check=True, capture_output=True)


@contextmanager
def served(home: Path, processes: int, **more: str) -> Iterator[list[str]]:
    """The addresses of so many servers that know nothing of each other but the database."""
    ports = [free_port() for _ in range(processes)]
    started = [_start(home, port, **more) for port in ports]
    try:
        for port in ports:
            _wait_for(port)
        yield [f"http://127.0.0.1:{port}" for port in ports]
    finally:
        for server in started:
            server.terminate()
        for server in started:
            server.wait(timeout=20)


def _start(home: Path, port: int, **more: str) -> subprocess.Popen[bytes]:
    command = ["-m", "granian", "--interface", "wsgi", "--no-ws", "--blocking-threads", "4", "--port", str(port)]
    return subprocess.Popen(
        [sys.executable, *command, "coaching.wsgi:application"],
        cwd=settings.BASE_DIR,
        env=environment(home, **more),
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


def _wait_for(port: int) -> None:
    until = time.monotonic() + SECONDS_TO_START
    while time.monotonic() < until:
        try:
            socket.create_connection(("127.0.0.1", port), timeout=1).close()
        except OSError:
            time.sleep(0.1)
        else:
            return
    raise TimeoutError(f"nothing listens on {port}")


class Visitor:
    """A browser of its own, said by the proxy before the desk to come from one place."""

    def __init__(self, place: str) -> None:
        self.place, self.token = place, ""
        self.browser = build_opener(HTTPCookieProcessor(CookieJar()))

    def get(self, address: str) -> tuple[str, str]:
        """Where it ends, and what is there."""
        return self._open(Request(address))

    def post(self, address: str, form: dict[str, str]) -> tuple[str, str]:
        """The form of the page at that address, filled in and sent."""
        self.get(address)
        return self.send(address, form)

    def send(self, address: str, form: dict[str, str]) -> tuple[str, str]:
        """As a form of the page that was looked at last."""
        body = urlencode(form | {"csrfmiddlewaretoken": self.token}).encode()
        return self._open(Request(address, body, {"Origin": "/".join(address.split("/")[:3])}))

    def _open(self, request: Request) -> tuple[str, str]:
        request.add_header("X-Forwarded-For", self.place)
        with self.browser.open(request, timeout=60) as answer:
            page = answer.read().decode()
        token = TOKEN.search(page)
        self.token = token[1] if token else ""
        return answer.url, page
