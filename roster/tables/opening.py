"""Opening the file that somebody names: a regular file of a bearable size, or a refusal; never a wait."""

from __future__ import annotations

import os
import stat
from pathlib import Path
from typing import BinaryIO

from roster.tables.faults import FileRefused
from roster.tables.limits import MEGABYTE, Limits

# A pipe that nobody writes to would else hold the opening up for ever.
WITHOUT_WAITING = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)


def open_regular_file(path: Path, limits: Limits) -> BinaryIO:
    try:
        descriptor = os.open(path, WITHOUT_WAITING)
    except OSError as error:
        raise FileRefused(f"can't be opened: {error.strerror}") from None
    try:
        _refuse_kind_and_size(os.fstat(descriptor), limits)
    except FileRefused:
        os.close(descriptor)
        raise
    return os.fdopen(descriptor, "rb")


def _refuse_kind_and_size(found: os.stat_result, limits: Limits) -> None:
    if not stat.S_ISREG(found.st_mode):
        raise FileRefused("is a folder, a pipe or a device, and no file")
    if found.st_size == 0:
        raise FileRefused("is empty")
    if found.st_size > limits.file_bytes:
        raise FileRefused(f"is larger than {limits.file_bytes // MEGABYTE} MB")
