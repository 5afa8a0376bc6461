"""The real server, in a process group of its own, to be killed as a power switch would: all of it, at once."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from contextlib import suppress
from http.client import HTTPConnection
from pathlib import Path

from tests.machine import free_port
from tests.repository import ROOT

WORKERS, THREADS = 2, 4
LONGEST_START_S = 60
KNOCKS_EVERY_S = 0.02
NOT_HANDED_ON = {"DATABASE_URL", "REDIS_URL", "DEBUG", "HTTPS", "ALLOWED_HOSTS", "MUSTER_HOME"}


def environment(home: Path, settings: str = "coaching.settings") -> dict[str, str]:
    kept = {name: text for name, text in os.environ.items() if name not in NOT_HANDED_ON}
    return kept | {"MUSTER_HOME": str(home), "DJANGO_SETTINGS_MODULE": settings}


def manage(home: Path, *words: str, settings: str = "coaching.settings") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "manage.py", *words],
        cwd=ROOT, env=environment(home, settings), capture_output=True, text=True, check=False,
    )  # fmt: skip


class Server:
    """Granian as the README starts it, with more than one worker."""

    def __init__(self, home: Path, *, settings: str = "coaching.settings", inside: tuple[str, ...] = ()) -> None:
        self.home, self.port = home, free_port()
        self._settings, self._inside = settings, inside
        self._process: subprocess.Popen[bytes] | None = None

    @property
    def log(self) -> Path:
        return self.home.parent / "server.log"

    def start(self) -> None:
        granian = [
            str(Path(sys.executable).with_name("granian")), "--interface", "wsgi", "--no-ws", "--port", str(self.port),
            "--workers", str(WORKERS), "--blocking-threads", str(THREADS), "coaching.wsgi:application",
        ]  # fmt: skip
        with self.log.open("ab") as log:
            self._process = subprocess.Popen(
                [*self._inside, *granian], cwd=ROOT, env=environment(self.home, self._settings), stdout=log,
                stderr=log, start_new_session=True,
            )  # fmt: skip

    def seconds_to_ready(self) -> float:
        """Until it answers that it is alive, from now on; the desk's own door asks the database."""
        began = time.monotonic()
        while time.monotonic() - began < LONGEST_START_S:
            if self._is_ready():
                return time.monotonic() - began
            if self._process is None or self._process.poll() is not None:
                break
            time.sleep(KNOCKS_EVERY_S)
        raise RuntimeError(f"the server did not start: {self.log.read_text()[-2000:]}")

    def _is_ready(self) -> bool:
        connection = HTTPConnection("127.0.0.1", self.port, timeout=5)
        try:
            connection.request("GET", "/sign-in/")
            return connection.getresponse().status == 200
        except OSError:
            return False
        finally:
            connection.close()

    @property
    def pid(self) -> int:
        assert self._process is not None
        return self._process.pid

    def ended(self) -> int:
        """How it ended by itself."""
        assert self._process is not None
        return self._process.wait(LONGEST_START_S)

    def kill(self) -> None:
        if self._process is not None:
            kill_group(self._process)
            self._process = None


def kill_group(process: subprocess.Popen[bytes]) -> None:
    with suppress(ProcessLookupError):
        os.killpg(process.pid, signal.SIGKILL)
    process.wait()
