"""Starting the child that takes a file apart, and hearing it out."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from roster.tables.faults import FileRefused
from roster.tables.limits import Limits
from roster.tables.parsing import arguments_for

ROOT = Path(__file__).resolve().parents[2]
DIED = "could not be read: it took too much memory or time, or is damaged"


def lines_from_child(path: Path, limits: Limits) -> Iterator[dict[str, Any]]:
    """What the child says, until its last word; a child that dies before it refuses the file."""
    command = [sys.executable, "-m", "roster.tables.parsing", *arguments_for(path, limits)]
    quiet = subprocess.DEVNULL
    with subprocess.Popen(
        command, cwd=ROOT, env=_environment(), stdin=quiet, stdout=subprocess.PIPE, stderr=quiet
    ) as child:
        try:
            yield from _until_the_end(child)
        finally:
            child.kill()


def _until_the_end(child: subprocess.Popen[bytes]) -> Iterator[dict[str, Any]]:
    assert child.stdout is not None
    for text in child.stdout:
        line = json.loads(text)
        if "end" in line:
            return
        yield line
    raise FileRefused(DIED)


def _environment() -> dict[str, str]:
    """Nothing of ours but what an interpreter needs: no secret is within a hostile file's reach."""
    kept = ("PATH", "SYSTEMROOT", "LANG", "LC_ALL", "VIRTUAL_ENV")
    # One thread of linear algebra, since each further one would reserve memory that the limit counts.
    return {name: os.environ[name] for name in kept if name in os.environ} | {"OPENBLAS_NUM_THREADS": "1"}
