"""The database fails: what people are told, that nothing acknowledged is lost, and that it goes on by itself.

ASVS 5.0 16.5.1 (words without innards), 16.5.2 (what still works goes on), 16.5.3 (nothing passes as kept).
"""

from __future__ import annotations

import os
import re
import shutil
import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from uuid import UUID

import pytest

from coaching.demo.cast import OWNER
from tests.crash.coach import Desk
from tests.crash.conftest import ALONE
from tests.crash.impatient import PATIENCE_S
from tests.crash.ledger import opened
from tests.crash.server import Server, manage

Serve = Callable[..., Server]
SignIn = Callable[[Server], Desk]


# Whoever else looks is written down, which is more than reading.
LED_BY_THE_OWNER = (
    "SELECT public_id FROM people_client AS client JOIN people_coach AS coach ON coach.id = client.lead_id"
    " WHERE coach.email = :email ORDER BY client.id"
)
# Root may write whatever a file's mode says, unless it is without that power.
WITHOUT_POWERS = ("setpriv", "--bounding-set=-dac_override,-dac_read_search") if os.geteuid() == 0 else ()


def a_client(home: Path) -> str:
    with opened(home / "muster.sqlite3") as connection:
        key = connection.execute(LED_BY_THE_OWNER, {"email": OWNER.email}).fetchone()[0]
    return str(UUID(key))


def notes(home: Path) -> list[str]:
    with opened(home / "muster.sqlite3") as connection:
        return [row[0] for row in connection.execute("SELECT text FROM people_note")]


@contextmanager
def locked(home: Path) -> Iterator[None]:
    """Somebody who begins to write and does not end."""
    with closing(sqlite3.connect(home / "muster.sqlite3", isolation_level=None)) as rogue:
        rogue.execute("BEGIN IMMEDIATE")
        yield
        rogue.execute("ROLLBACK")


def heading(page: str) -> str:
    found = re.search("<h1>(.*?)</h1>", page)
    return found[1] if found else page[:300]


def test_a_lock_that_is_held_too_long_is_told_in_time_and_afterwards_it_goes_on(
    home: Path, serve: Serve, sign_in: SignIn
) -> None:
    desk = sign_in(serve(settings="tests.crash.impatient"))
    client = a_client(home)

    with locked(home):
        began = time.monotonic()
        refused, page = desk.ask("POST", f"/clients/{client}/notes/", {"text": "while it is locked"})
        waited_s = time.monotonic() - began
        retry_after = desk.headers["Retry-After"]
        read = [desk.ask("GET", path)[0] for path in ("/?whose=all", "/turnout/", f"/clients/{client}/")]
    kept, _ = desk.ask("POST", f"/clients/{client}/notes/", {"text": "afterwards"})

    assert (refused, heading(page), retry_after) == (503, "Somebody else is writing", "5")
    assert "What you sent was not kept." in page
    assert PATIENCE_S <= waited_s < PATIENCE_S + 1
    assert read == [200, 200, 200]
    assert kept == 302
    assert "afterwards" in notes(home)
    assert "while it is locked" not in notes(home)


def test_a_command_says_in_one_line_that_somebody_else_is_writing(home: Path) -> None:
    with locked(home):
        ran = manage(home, "reassess", settings="tests.crash.impatient")

    assert ran.returncode == 2
    assert ran.stderr.strip().splitlines()[-1].startswith("The database can't be used: somebody else is writing.")


@pytest.mark.usefixtures("small_disks")
def test_a_full_disk_is_told_reading_goes_on_and_with_room_so_does_writing(
    home: Path, tmp_path: Path, sign_in: SignIn
) -> None:
    small = tmp_path / "small"
    small.mkdir()
    megabytes = (home / "muster.sqlite3").stat().st_size // 2**20 + 6
    mount = f'mount -t tmpfs -o size={megabytes}m tmpfs {small} && cp -r {home} {small} && exec "$@"'
    server = Server(small / "home", inside=(*ALONE, "sh", "-c", mount, "sh"))
    server.start()
    try:
        server.seconds_to_ready()
        desk, client, text = sign_in(server), a_client(home), "x" * 1900
        # The disk is mounted for the server alone; it is reached through the server's own eyes.
        there = Path(f"/proc/{server.pid}/root{small}/home")
        _fill(there / "filler")
        answers = [desk.ask("POST", f"/clients/{client}/notes/", {"text": f"{n} {text}"}) for n in range(40)]
        read = [desk.ask("GET", path)[0] for path in ("/?whose=all", "/turnout/", f"/clients/{client}/")]
        (there / "filler").unlink()
        kept, _ = desk.ask("POST", f"/clients/{client}/notes/", {"text": "there is room"})
        found = _notes_of(there, tmp_path / "found")
    finally:
        server.kill()

    acknowledged = {f"{n} {text}" for n, (status, _) in enumerate(answers) if status == 302}
    refused = {(status, heading(page)) for status, page in answers if status != 302}
    assert refused == {(507, "The disk is full")}
    assert read == [200, 200, 200]
    assert kept == 302
    assert {text for text in found if text.endswith(("xx", "room"))} == acknowledged | {"there is room"}


def _notes_of(there: Path, folder: Path) -> list[str]:
    """From a copy with its log: a database is not opened through somebody else's eyes."""
    folder.mkdir()
    for name in ("muster.sqlite3", "muster.sqlite3-wal"):
        shutil.copy(there / name, folder)
    with opened(folder / "muster.sqlite3") as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    return notes(folder)


def _fill(path: Path) -> None:
    with path.open("wb", buffering=0) as filler:
        for size in (2**16, 2**10, 1):
            try:
                while filler.write(b"0" * size):
                    pass
            except OSError:
                continue


def damage(database: Path, at: float) -> bytes:
    """Some pages are overwritten as a bad disk would; answers what the file is then."""
    content = bytearray(database.read_bytes())
    begins = int(len(content) * at)
    content[begins : begins + 4 * 4096] = os.urandom(4 * 4096)
    database.write_bytes(content)
    return bytes(content)


@pytest.mark.parametrize("at", [0, 0.5], ids=["the beginning", "the middle"])
def test_a_damaged_file_is_not_served_and_not_touched(home: Path, at: float) -> None:
    damaged = damage(home / "muster.sqlite3", at)
    server = Server(home)
    server.start()

    try:
        with pytest.raises(RuntimeError, match="the database file is damaged.*[Rr]estore the latest backup"):
            server.seconds_to_ready()
    finally:
        server.kill()

    assert (home / "muster.sqlite3").read_bytes() == damaged


@pytest.mark.parametrize("words", [["migrate"], ["demo", "--no-serve"], ["export", "weeks"]], ids=" ".join)
def test_a_command_on_a_damaged_file_says_so_in_one_line_and_leaves_it_as_it_is(home: Path, words: list[str]) -> None:
    damaged = damage(home / "muster.sqlite3", 0)

    ran = manage(home, *words)

    assert ran.returncode == 2
    assert "The database can't be used: the database file is damaged." in ran.stderr.strip().splitlines()[-1]
    assert ran.stdout == ""
    assert (home / "muster.sqlite3").read_bytes() == damaged


def test_a_file_that_is_damaged_while_it_is_served_is_told_on_the_page(
    home: Path, serve: Serve, sign_in: SignIn
) -> None:
    desk = sign_in(serve())
    for path in home.glob("muster.sqlite3?*"):
        path.unlink()
    broken = home / "new"
    broken.write_bytes(b"no database, this. " * 5000)
    broken.replace(home / "muster.sqlite3")

    status, page = desk.ask("GET", "/")

    assert (status, heading(page)) == (503, "The database file is damaged")
    assert "restore the latest backup" in page
    assert "sqlite" not in page.lower()


def test_a_file_that_may_only_be_read_is_still_read(home: Path, sign_in: SignIn) -> None:
    server, client = Server(home, inside=WITHOUT_POWERS), a_client(home)
    server.start()
    try:
        server.seconds_to_ready()
        desk = sign_in(server)
        server.kill()
        desk.close()
        (home / "muster.sqlite3").chmod(0o444)
        server.start()
        server.seconds_to_ready()
        read = [desk.ask("GET", path)[0] for path in ("/?whose=all", "/turnout/", f"/clients/{client}/")]
        refused, page = desk.ask("POST", f"/clients/{client}/notes/", {"text": "not to be kept"})
    finally:
        server.kill()

    assert read == [200, 200, 200]
    assert (refused, heading(page)) == (503, "The database can only be read")
    assert "What you sent was not kept." in page
    assert "not to be kept" not in notes(home)


def test_a_database_file_that_is_whole_is_served(home: Path, serve: Serve, sign_in: SignIn) -> None:
    assert sign_in(serve()).ask("GET", "/?whose=all")[0] == 200
