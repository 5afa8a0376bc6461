"""The same files give the same exports, byte for byte, whichever database holds the record."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from tests.repository import ROOT
from tests.rosters.generate import random_roster
from tests.rosters.roster import Roster, write_files

# No two databases need agree on the order of these.
BEGINNINGS = ["a", "B", "ä", "Z", "_", "É", "z", "-", "ß", "1"]
KEY = "a key of fifty characters or more, for the processes of this one test"


def roster_of_odd_keys() -> Roster:
    drawn = random_roster(201, clients=24, weeks=12)
    keys = {
        row["client"]: f"{BEGINNINGS[number % len(BEGINNINGS)]}{row['client']}"
        for number, row in enumerate(drawn.clients)
    }
    by_folded = {old.strip().casefold(): new for old, new in keys.items()}
    for row in [*drawn.clients, *drawn.blocks, *drawn.logs]:
        row["client"] = by_folded[row["client"].strip().casefold()]
    return drawn


def exports(files: Path, out: Path, url: str) -> dict[str, bytes]:
    out.mkdir()
    environment = {
        "PATH": os.environ["PATH"], "DATABASE_URL": url, "SECRET_KEY": KEY, "OWNER_PASSWORD": "steel-and-chalk-1",
        "MUSTER_HOME": str(out.parent / f"home-{out.name}"),
    }  # fmt: skip
    program = [sys.executable, "-m", "tests.coaching.databases.exporting", str(files), str(out)]
    ran = subprocess.run(program, cwd=ROOT, env=environment, capture_output=True, text=True, timeout=600, check=False)
    assert ran.returncode == 0, ran.stderr
    return {path.name: path.read_bytes() for path in out.iterdir()}


def test_both_databases_export_the_same_bytes(new_database: str, tmp_path: Path) -> None:
    write_files(roster_of_odd_keys(), tmp_path)

    embedded = exports(tmp_path, tmp_path / "embedded", "")
    from_the_server = exports(tmp_path, tmp_path / "server", new_database)

    assert len(embedded) == 16
    assert min(map(len, embedded.values())) > 1_000
    assert from_the_server.keys() == embedded.keys()
    assert [name for name, written in embedded.items() if from_the_server[name] != written] == []
