"""Whoever makes packs of many clients is killed in the middle: the next one goes on, and nothing is lost or twice."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from pathlib import Path
from zipfile import ZipFile

from coaching.check_ins.documents.file_names import ID_DIGITS
from tests.crash.ledger import opened
from tests.crash.server import environment, kill_group, manage
from tests.repository import ROOT

STATES = (
    "SELECT client.public_id, pack.state FROM check_ins_packofbatch AS pack"
    " JOIN people_client AS client ON client.id = pack.client_id"
)
A_WHILE_LATER = "UPDATE check_ins_packbatch SET alive_at = datetime(alive_at, '-2 minutes')"
DOCUMENTS_EACH, MADE_BEFORE = 3, 2


def states(home: Path) -> dict[str, str]:
    """By the first digits of the client's id, which are in the names of documents."""
    with opened(home / "muster.sqlite3") as connection:
        return {public_id[:ID_DIGITS]: state for public_id, state in connection.execute(STATES)}


def make_until(home: Path, packs: int) -> None:
    process = subprocess.Popen(
        [sys.executable, "-m", "tests.crash.batch_maker"],
        cwd=ROOT, env=environment(home), stdout=subprocess.PIPE, start_new_session=True,
    )  # fmt: skip
    assert process.stdout is not None
    with process.stdout as said:
        try:
            assert f"{packs}\n".encode() in iter(said.readline, b"")
        finally:
            kill_group(process)


def client_of(name: str) -> str:
    return name.split("-20")[0].rsplit("-", 1)[1]


def test_after_a_kill_every_pack_is_there_once_and_whole(home: Path) -> None:
    make_until(home, packs=MADE_BEFORE)
    before = Counter(states(home).values())
    # Neither nothing nor all: else no middle was met.
    assert before["made"] + before["nothing"] >= MADE_BEFORE
    assert before["waiting"]
    with opened(home / "muster.sqlite3") as connection:
        connection.execute(A_WHILE_LATER)

    went_on = manage(home, "run_due")

    assert (went_on.returncode, "Batches of packs gone on with: 1." in went_on.stderr) == (0, True), went_on.stderr
    (archive,) = (home / "packs").glob("*/*")
    with ZipFile(archive) as packed:
        assert packed.testzip() is None
        names = [name for name in packed.namelist() if name != "who-has-none.txt"]
        papers = [packed.read(name) for name in names if name.endswith(".pdf")]
    assert len(set(names)) == len(names)
    made = {client: DOCUMENTS_EACH for client, state in states(home).items() if state == "made"}
    assert Counter(map(client_of, names)) == made
    assert len(made) > MADE_BEFORE
    assert all(paper.startswith(b"%PDF-") and paper.rstrip().endswith(b"%%EOF") for paper in papers)
    assert set(states(home).values()) <= {"made", "nothing"}
