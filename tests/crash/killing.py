"""Kills the whole server while it is being written to, again and again, and holds the database to the ledger."""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from threading import Event, Thread
from uuid import UUID

from coaching.demo.cast import OWNER
from tests.crash.coach import Coach, Desk, Finding
from tests.crash.ledger import Kind, Ledger, opened
from tests.crash.server import Server, environment, kill_group, manage
from tests.repository import ROOT

COACHES = 4
CYCLES_BETWEEN_WORDS = 20
# From the first write of a cycle to its end.
SHORTEST_S, LONGEST_S = 0.02, 0.8
STANDING = (
    "SELECT client.public_id, flag.kind, flag.subject, flag.urgency, client.time_zone FROM monitoring_flag AS flag"
    " JOIN people_client AS client ON client.id = flag.client_id JOIN people_studio AS studio"
    " ON studio.id = client.studio_id WHERE studio.name = 'Slow Iron Studio' AND flag.holds AND flag.closed_on IS NULL"
    " ORDER BY flag.id"
)
OPEN_AGAIN = "UPDATE monitoring_flag SET closed_on = NULL, put_aside_until = NULL"


@dataclass
class Outcome:
    """What came of all cycles."""

    ledger: Ledger
    database: Path
    seconds_to_ready: list[float] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)

    def lines(self) -> list[str]:
        count = {kind: list(self.ledger.acknowledged.values()).count(kind) for kind in Kind}
        ready = sorted(self.seconds_to_ready)
        return [
            f"cycles: {len(ready) - 1}",
            f"acknowledged: {len(self.ledger.acknowledged)} ("
            + ", ".join(f"{number} {kind.name.lower()}" for kind, number in count.items()) + ")",
            f"cut off before the answer: {len(self.ledger.unanswered)}, of these kept:"
            f" {self.ledger.kept_without_answer(self.database)}",
            f"refused: {dict(self.ledger.refused)}",
            f"lost, half, twice, or damaged: {len(self.faults)}",
            f"ready again: p50 {statistics.median(ready):.2f} s, p99 {ready[int(len(ready) * 0.99)]:.2f} s,"
            f" longest {ready[-1]:.2f} s; a start after a clean end: {self.seconds_to_ready[0]:.2f} s",
        ]  # fmt: skip


class Killing:
    def __init__(self, home: Path, seed: int) -> None:
        self._home, self._seed, self._dice = home, seed, Random(seed)
        self._database = home / "muster.sqlite3"
        self._server = Server(home)
        self.outcome = Outcome(Ledger(), self._database)

    def run(self, cycles: int, say: Callable[[str], None] = print) -> Outcome:
        """Interrupted, it ends with what came of the cycles so far."""
        made = manage(self._home, "demo", "--no-serve", "--clients", "14", "--weeks", "12")
        if made.returncode:
            raise RuntimeError(made.stderr)
        coaches = self._hire()
        try:
            with suppress(KeyboardInterrupt):
                for cycle in range(cycles):
                    self._one_cycle(cycle, coaches)
                    if (cycle + 1) % CYCLES_BETWEEN_WORDS == 0:
                        say(self._so_far(cycle + 1))
            self._server.kill()
            self._start_again()
        finally:
            self._server.kill()
            for coach in coaches:
                coach.desk.close()
        return self.outcome

    def _so_far(self, cycles: int) -> str:
        acknowledged, faults = len(self.outcome.ledger.acknowledged), len(self.outcome.faults)
        return f"{cycles} cycles: {acknowledged} acknowledged, {faults} faults"

    def _hire(self) -> list[Coach]:
        """Signed in once: who is signed in is in the database, and outlives the server like everything else."""
        with opened(self._database) as connection:
            standing = [Finding(str(UUID(key)), *rest) for key, *rest in connection.execute(STANDING)]
        clients = sorted({finding.public_id for finding in standing})
        self._server.start()
        self._server.seconds_to_ready()
        coaches = []
        for number in range(COACHES):
            desk = Desk(self._server.port)
            desk.sign_in(OWNER.email, OWNER.password)
            coaches.append(Coach(number, desk, clients, standing[number::COACHES], self.outcome.ledger))
        self._server.kill()
        return coaches

    def _one_cycle(self, cycle: int, coaches: list[Coach]) -> None:
        self._start_again()
        with self._loading(f"{self._seed}.{cycle}"), _working(coaches, f"{self._seed}.{cycle}"):
            time.sleep(self._dice.uniform(SHORTEST_S, LONGEST_S))
            self._server.kill()

    def _start_again(self) -> None:
        self._server.start()
        self.outcome.seconds_to_ready.append(self._server.seconds_to_ready())
        self.outcome.faults += self.outcome.ledger.faults(self._database)
        with opened(self._database) as connection:
            connection.execute(OPEN_AGAIN)

    @contextmanager
    def _loading(self, seed: str) -> Iterator[None]:
        again = [word for word, kind in self.outcome.ledger.unanswered.items() if kind is Kind.FILE]
        process = subprocess.Popen(
            [sys.executable, "-m", "tests.crash.loader", str(self._home), seed, *again],
            cwd=ROOT, env=environment(self._home), stdout=subprocess.PIPE, start_new_session=True,
        )  # fmt: skip
        assert process.stdout is not None
        with process.stdout as said:
            self._note_files(iter(said.readline, b"ready\n"))
            try:
                yield
            finally:
                kill_group(process)
            self._note_files(said)

    def _note_files(self, said: Iterable[bytes]) -> None:
        for line in said:
            if not line:
                raise RuntimeError("the loader ended by itself")
            what, _, word = line.decode().strip().partition(" ")
            if what == "send":
                self.outcome.ledger.send(word, Kind.FILE)
            else:
                self.outcome.ledger.acknowledge(word)


@contextmanager
def _working(coaches: list[Coach], seed: str) -> Iterator[None]:
    stopped = Event()
    threads = [Thread(target=coach.work, args=(stopped, seed)) for coach in coaches]
    for thread in threads:
        thread.start()
    try:
        yield
    finally:
        stopped.set()
        for thread in threads:
            thread.join()
