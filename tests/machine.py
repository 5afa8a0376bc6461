"""What a machine has, and what it may lack: the one place where a test may be left out, and the setting under which it
may not be."""

from __future__ import annotations

import os
import socket

import pytest


def leave_out_unless(is_there: bool, lacking: str, *, required_by: str) -> None:
    """Where `required_by` is 1 in the environment, as it is for a change to be taken, lacking it is a failure."""
    if is_there:
        return
    if os.environ.get(required_by) == "1":
        pytest.fail(f"{lacking}, and {required_by} asks for it")
    pytest.skip(lacking)


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])
