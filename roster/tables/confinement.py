"""What a child gives up before it looks at a file from outside: endless memory and time, network, disk, programs.

The parsers are to be trusted, but were written by people. The kernel holds the bounds where it can; a hook of the
interpreter refuses the rest, which nothing within it can take off again.
"""

from __future__ import annotations

import contextlib
import ctypes
import os
import sys
from pathlib import Path
from typing import Any

from roster.tables.limits import Limits

CLONE_NEW_USER, CLONE_NEW_NETWORK = 0x1000_0000, 0x4000_0000
FAMILIES_REFUSED = frozenset({
    "ctypes", "fcntl", "ftplib", "http", "mmap", "os", "shutil", "smtplib", "socket", "subprocess", "tempfile",
    "urllib",
})  # fmt: skip
# The interpreter lists folders to find its own modules.
HARMLESS = frozenset({"os.listdir", "os.scandir"})
WRITING = os.O_WRONLY | os.O_RDWR | os.O_APPEND | os.O_CREAT | os.O_TRUNC
# Where modules come from that the parsers import on the way: the interpreter, its packages, and ours of the record.
OURS = Path(__file__).parents[1]
LIBRARIES = tuple(os.path.join(os.path.realpath(place), "") for place in (sys.prefix, sys.base_prefix, OURS))


class Forbidden(RuntimeError):
    """The reading of a file tried what no reading needs."""


def leave_the_network() -> bool:
    """Into a network of its own, without a way out; whether the system allowed it."""
    if not sys.platform.startswith("linux"):
        return False
    unshare = ctypes.CDLL(None, use_errno=True).unshare
    return unshare(CLONE_NEW_NETWORK) == 0 or unshare(CLONE_NEW_USER | CLONE_NEW_NETWORK) == 0


def bound_resources(file_bytes: int, limits: Limits) -> None:
    """As much memory and time as a file of this size may need, where the system knows such bounds; nothing on disk."""
    if sys.platform == "win32":
        return
    import resource

    bounds = {
        resource.RLIMIT_AS: limits.memory_for(file_bytes),
        resource.RLIMIT_CPU: limits.cpu_seconds_for(file_bytes),
        resource.RLIMIT_FSIZE: 0,
        resource.RLIMIT_CORE: 0,
    }
    for which, most in bounds.items():
        # Not every system knows every bound.
        with contextlib.suppress(OSError, ValueError):
            # The signal of the soft bound says which it was; at the hard one the kernel only kills.
            resource.setrlimit(which, (most, most + 1 if which == resource.RLIMIT_CPU else most))


def forbid_the_rest() -> None:
    """No socket, no other program, no writing, and no reading but of the interpreter's own modules; for good."""
    sys.dont_write_bytecode = True
    sys.addaudithook(_refuse)


def _refuse(event: str, details: tuple[Any, ...]) -> None:
    if event == "open":
        _refuse_opening(*details)
    elif event.partition(".")[0] in FAMILIES_REFUSED and event not in HARMLESS:
        raise Forbidden(event)


def _refuse_opening(path: Any, mode: Any, flags: Any) -> None:
    if isinstance(path, int):
        return
    is_writing = isinstance(flags, int) and bool(flags & WRITING)
    if is_writing or not os.path.realpath(os.fsdecode(path)).startswith(LIBRARIES):
        raise Forbidden("open")
