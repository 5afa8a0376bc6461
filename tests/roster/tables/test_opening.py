"""Only a regular file of a bearable size is opened, and opening never waits."""

from __future__ import annotations

import os
import socket
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from roster.tables.faults import FileRefused
from roster.tables.limits import COMMAND_LIMITS
from roster.tables.opening import open_regular_file


def _socket_at(path: Path) -> None:
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind(str(path))


@pytest.mark.parametrize(
    ("make", "reason"),
    [
        (Path.mkdir, "is a folder, a pipe or a device"),
        (os.mkfifo, "is a folder, a pipe or a device"),
        (lambda path: path.symlink_to("/dev/zero"), "is a folder, a pipe or a device"),
        (lambda path: path.symlink_to(path.parent), "is a folder, a pipe or a device"),
        (lambda path: path.symlink_to(path), "can't be opened: Too many levels of symbolic links"),
        (lambda path: path.symlink_to(path / "gone"), "can't be opened: "),
        (_socket_at, "can't be opened: "),
        (Path.touch, "is empty"),
        (lambda path: None, "can't be opened: No such file or directory"),
    ],
    ids=["folder", "pipe", "device", "folder's link", "own link", "dead link", "socket", "empty", "none"],
)
def test_what_is_no_file_is_refused_at_once(tmp_path: Path, make: Callable[[Path], None], reason: str):
    path = tmp_path / "logs.csv"
    make(path)

    with pytest.raises(FileRefused, match=reason) as refused:
        open_regular_file(path, COMMAND_LIMITS)

    assert str(tmp_path) not in str(refused.value.fault)


def test_a_link_to_a_file_is_that_file(tmp_path: Path):
    (tmp_path / "there.csv").write_text("x")
    link = tmp_path / "here.csv"
    link.symlink_to(tmp_path / "there.csv")

    with open_regular_file(link, COMMAND_LIMITS) as file:
        assert file.read() == b"x"


def test_a_file_larger_than_the_limit_is_refused(tmp_path: Path):
    """ASVS 5.0 5.2.1"""
    path = tmp_path / "logs.csv"
    path.write_bytes(bytes(11))

    with pytest.raises(FileRefused, match="is larger than"):
        open_regular_file(path, replace(COMMAND_LIMITS, file_bytes=10))
