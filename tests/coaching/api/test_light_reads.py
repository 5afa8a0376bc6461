"""Whoever reads what is stored does not wait for packages that only calculations need."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from tests.coaching.api.test_description import SPEC
from tests.repository import ROOT

READS = [path for path, of_path in SPEC["paths"].items() if "get" in of_path]


def test_no_read_of_stored_facts_loads_what_calculates(tmp_path: Path) -> None:
    environment = {"PATH": os.environ["PATH"], "MUSTER_HOME": str(tmp_path)}
    program = [sys.executable, "-m", "tests.coaching.api.reading_alone"]

    ran = subprocess.run(program, cwd=ROOT, env=environment, capture_output=True, text=True, timeout=120, check=True)

    *reads, computed = (line.split() for line in ran.stdout.splitlines())
    assert [path for path, *_ in reads] == READS
    assert all(status == "200" and int(rows) > 0 for _, status, rows, *_ in reads)
    assert [(path, loaded) for path, _, _, *loaded in reads if loaded] == []
    assert "pandas" in computed
