"""Starting the child that takes a file apart, and hearing it out.

The child is not believed: it may be killed, hang, say too much or say nonsense. Whatever it does, the file is read to
the end or refused in one line.
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any, BinaryIO

from roster.tables.faults import UNREADABLE, FileRefused
from roster.tables.limits import Limits
from roster.tables.parsing import arguments_for

ROOT = Path(__file__).resolve().parents[2]
NOT_STARTED = "could not be read: this machine is short of memory or processes; try again later"
LONGEST_LINE_BYTES = 1 << 26
SIGNAL_OF_TIME = getattr(signal, "SIGXCPU", None)


def lines_from_child(file: BinaryIO, limits: Limits) -> Iterator[dict[str, Any]]:
    """What the child says, until its last word; a child that dies before it refuses the file."""
    size = os.fstat(file.fileno()).st_size
    late = threading.Event()
    with _started(file, limits) as child:
        watch = threading.Timer(limits.wall_seconds_for(size), _stop, (child, late))
        watch.start()
        try:
            yield from _until_the_end(child, limits)
        except NoLastWord:
            raise FileRefused(_why(child, late, limits.cpu_seconds_for(size))) from None
        finally:
            watch.cancel()
            child.kill()


class NoLastWord(Exception):
    """The child stopped, or said what it never says."""


def _started(file: BinaryIO, limits: Limits) -> subprocess.Popen[bytes]:
    command = [sys.executable, "-B", "-m", "roster.tables.parsing", *arguments_for(limits)]
    try:
        return subprocess.Popen(
            command,
            cwd=ROOT,
            env=_environment(),
            stdin=file,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
        )
    except OSError:
        raise FileRefused(NOT_STARTED) from None


def _stop(child: subprocess.Popen[bytes], late: threading.Event) -> None:
    late.set()
    child.kill()


def _until_the_end(child: subprocess.Popen[bytes], limits: Limits) -> Iterator[dict[str, Any]]:
    assert child.stdout is not None
    bytes_left = limits.most_output_bytes
    while text := child.stdout.readline(LONGEST_LINE_BYTES):
        bytes_left -= len(text)
        if bytes_left < 0:
            raise NoLastWord
        line = _understood(text)
        if "end" in line:
            return
        yield line
    raise NoLastWord


def _understood(text: bytes) -> dict[str, Any]:
    try:
        line = json.loads(text)
    except (RecursionError, ValueError):
        raise NoLastWord from None
    if not isinstance(line, dict):
        raise NoLastWord
    return line


def _why(child: subprocess.Popen[bytes], late: threading.Event, seconds: int) -> str:
    try:
        status = child.wait(1)
    except subprocess.TimeoutExpired:
        return UNREADABLE
    out_of_time = late.is_set() or (SIGNAL_OF_TIME is not None and status == -SIGNAL_OF_TIME)
    return f"took longer to read than the {seconds} s that a file of its size may take" if out_of_time else UNREADABLE


def _environment() -> dict[str, str]:
    """Nothing of ours but what an interpreter needs: no secret is within a hostile file's reach."""
    kept = ("PATH", "SYSTEMROOT", "LANG", "LC_ALL", "VIRTUAL_ENV")
    return {name: os.environ[name] for name in kept if name in os.environ}
