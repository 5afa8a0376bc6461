"""Many mutants in one run, and what came of them."""

from __future__ import annotations

import socket
import tempfile
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from coaching.loads.loading import LOADERS
from roster.people.models import Coach
from roster.tables.limits import MEGABYTE
from roster.tables.table import Row, Table
from tests.faults import markup_mutations
from tests.faults.mutants import make_mutant
from tests.faults.nursery import Nursery, Taken
from tests.faults.seeds import KINDS, rows_of
from tests.faults.stored_rows import stored_rows
from tests.faults.trial import NOW, Record, Verdict, try_mutant

RUN_SEED = 20260415


@dataclass
class Tally:
    accepted: int = 0
    refused: int = 0
    slowest: Taken = Taken(0, 0, 0)
    largest: Taken = Taken(0, 0, 0)
    failures: list[str] = field(default_factory=list)

    def count(self, verdict: Verdict) -> None:
        self.accepted += verdict.is_accepted
        self.refused += not verdict.is_accepted
        self.slowest = max(self.slowest, verdict.taken, key=lambda taken: taken.cpu_seconds)
        self.largest = max(self.largest, verdict.taken, key=lambda taken: taken.memory_bytes)
        if verdict.problems:
            mutant = verdict.mutant
            self.failures.append(f"mutant {mutant.number} ({mutant.told}): {'; '.join(verdict.problems)}")

    def __str__(self) -> str:
        return (
            f"{self.accepted} taken, {self.refused} refused, {len(self.failures)} failures; "
            f"slowest {self.slowest.cpu_seconds:.2f} s, largest {self.largest.memory_bytes // MEGABYTE} MB"
        )


def filled_record(by: Coach) -> Record:
    """The record that the good files tell of, but for the second half of its logs."""
    for kind in KINDS:
        header, *body = rows_of(kind)
        kept = body[: len(body) // 2] if kind == "logs" else body
        table = Table(
            {name: place for place, name in enumerate(header)}, [Row(n, tuple(row)) for n, row in enumerate(kept, 2)]
        )
        report = LOADERS[kind].load(table, studio=by.studio, by=by, now=NOW)
        assert not report.faults, [str(fault) for fault in report.faults]
    return Record(by, stored_rows())


def run(
    numbers: Iterable[int], record: Record, *, seed: int = RUN_SEED, told: Callable[[Tally], None] = lambda tally: None
) -> Tally:
    """Try the mutants of these numbers against the record."""
    tally = Tally()
    with tempfile.TemporaryDirectory() as directory, nursery_of() as nursery, listener() as arrivals:
        for number in numbers:
            tally.count(try_mutant(make_mutant(seed, number), nursery, Path(directory), record))
            told(tally)
        if arrived := arrivals():
            tally.failures.append(f"{arrived} connections went out")
    return tally


@contextmanager
def nursery_of(defect: str = "") -> Iterator[Nursery]:
    nursery = Nursery(defect=defect)
    try:
        yield nursery
    finally:
        nursery.close()


@contextmanager
def listener() -> Iterator[Callable[[], int]]:
    """Where the references in hostile markup lead; answers how many came."""
    with socket.create_server(("127.0.0.1", 0), backlog=128) as listening:
        listening.setblocking(False)
        before = markup_mutations.LISTENER
        markup_mutations.LISTENER = "{}:{}".format(*listening.getsockname())
        try:
            yield lambda: _waiting(listening)
        finally:
            markup_mutations.LISTENER = before


def _waiting(listening: socket.socket) -> int:
    arrived = 0
    while True:
        try:
            listening.accept()[0].close()
        except BlockingIOError:
            return arrived
        arrived += 1
