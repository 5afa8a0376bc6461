"""A process that bears a child for each file, confined as the product confines it, and tells what each one took.

Starting an interpreter and its reader of workbooks for every file would take longer than reading it; here they are
loaded once, and each child is a copy that ends with its file. `python -m tests.faults.nursery SOCKET LIMITS [DEFECT]`.
"""

from __future__ import annotations

import json
import os
import resource
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from typing import Any, BinaryIO

from roster.tables.confinement import bound_resources, forbid_the_rest, leave_the_network
from roster.tables.faults import UNREADABLE, FileRefused
from roster.tables.limits import UPLOAD_LIMITS, Limits
from roster.tables.parsing import load_nothing_needless, write_lines
from tests.repository import ROOT

# Of the wall clock, which also runs while others have the processor.
HARD_STOP_SECONDS = 40
GREEDY_BYTES = 320_000_000


@dataclass(frozen=True)
class Taken:
    """What one child took, and how it ended; 0 is well."""

    cpu_seconds: float
    memory_bytes: int
    status: int


class Nursery:
    """Reads files as the product does, many with one start; the last child's figures are kept."""

    def __init__(self, limits: Limits = UPLOAD_LIMITS, defect: str = "") -> None:
        self.ours, theirs = socket.socketpair()
        command = [sys.executable, "-B", "-m", "tests.faults.nursery", str(theirs.fileno()), json.dumps(asdict(limits))]
        with theirs:
            self.process = subprocess.Popen(
                [*command, defect], cwd=ROOT, pass_fds=[theirs.fileno()], env=_environment()
            )
        self.taken = Taken(0, 0, 0)

    def parse(self, file: BinaryIO, limits: Limits) -> Iterator[dict[str, Any]]:
        said, theirs = os.pipe()
        socket.send_fds(self.ours, [b"."], [file.fileno(), theirs])
        os.close(theirs)
        with os.fdopen(said, "rb") as out:
            lines = out.read().splitlines()
        self.taken = Taken(*json.loads(self.ours.recv(1024)))
        for line in map(json.loads, lines):
            if "end" in line:
                return
            yield line
        raise FileRefused(UNREADABLE)

    def close(self) -> None:
        self.ours.close()
        self.process.wait(HARD_STOP_SECONDS)


def _environment() -> dict[str, str]:
    return {"PATH": os.environ["PATH"]}


def _burn(seconds: float) -> None:
    while time.process_time() < seconds:
        pass


# Seeded, so that it can be seen that they are found; each takes the place of the confinement.
DEFECTS: dict[str, Callable[[], Any]] = {
    "greedy": lambda: bytearray(GREEDY_BYTES),
    "slow": lambda: _burn(3),
    "crashes": os.abort,
}


def _serve(descriptor: int, limits: Limits, defect: str) -> None:
    from roster.tables import workbooks  # noqa: F401

    if not defect:
        leave_the_network()
    with socket.socket(fileno=descriptor) as parent:
        while True:
            word, descriptors, _, _ = socket.recv_fds(parent, 1, 2)
            if not word:
                return
            parent.send(json.dumps(_bear(descriptors, limits, defect)).encode())


def _bear(descriptors: list[int], limits: Limits, defect: str) -> list[float]:
    child = os.fork()
    if child == 0:
        _live(*descriptors, limits, defect)
    for descriptor in descriptors:
        os.close(descriptor)
    _, status, used = os.wait4(child, 0)
    return [used.ru_utime + used.ru_stime, used.ru_maxrss * 1024, os.waitstatus_to_exitcode(status)]


def _live(source: int, said: int, limits: Limits, defect: str) -> None:
    status = 1
    try:
        signal.alarm(HARD_STOP_SECONDS)
        with open(source, "rb") as file, open(said, "w") as out:
            if defect:
                kept = DEFECTS[defect]()  # noqa: F841
            else:
                bound_resources(os.fstat(source).st_size, limits)
                forbid_the_rest()
            write_lines(file, limits, out)
        status = 0
    finally:
        os._exit(status)


if __name__ == "__main__":
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    load_nothing_needless()
    _serve(int(sys.argv[1]), Limits(**json.loads(sys.argv[2])), sys.argv[3])
