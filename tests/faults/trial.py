"""One mutant loaded as a file from outside is, and everything that must hold of it, whatever it is.

A refusal leaves the database as it was and says where and why; what is taken does what its preview said.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from django.db import transaction

from coaching.loads.loading import LOADERS, Source, check_table, load_table
from coaching.loads.models import Load
from roster.people.models import Coach
from roster.tables.faults import Fault, FileRefused
from roster.tables.limits import MEGABYTE, UPLOAD_LIMITS
from roster.tables.reading import read_table
from roster.tables.report import LoadReport
from roster.tables.table import Table
from tests.faults.mutants import Mutant
from tests.faults.nursery import Nursery, Taken
from tests.faults.stored_rows import Stored, stored_rows

NOW = datetime(2027, 6, 1, tzinfo=UTC)
MOST_CPU_SECONDS = 2
MOST_MEMORY_BYTES = 300 * MEGABYTE
# In the environment of whoever reads, and in no fault.
SECRET = "canary-of-the-environment"
MACHINE = re.compile(rf"/tmp|/root|/home|/usr|Traceback|\(Forbidden\)|File \"|{SECRET}")
LoadTable = Callable[..., tuple[LoadReport, Load | None]]


@dataclass(frozen=True)
class Record:
    """What all mutants are loaded into: whose it is, and what the database holds."""

    by: Coach
    rows: Stored


@dataclass
class Verdict:
    mutant: Mutant
    is_accepted: bool = False
    problems: list[str] = field(default_factory=list)
    taken: Taken = Taken(0, 0, 0)
    said: list[str] = field(default_factory=list)


def try_mutant(
    mutant: Mutant, nursery: Nursery, directory: Path, record: Record, load: LoadTable = load_table
) -> Verdict:
    """Load it into the record, judge, and leave no trace."""
    verdict = Verdict(mutant)
    path = directory / mutant.file_name
    path.write_bytes(mutant.content)
    try:
        with transaction.atomic():
            _judge(verdict, path, nursery, record, load)
            transaction.set_rollback(True)
    except Exception as error:
        verdict.problems.append(f"crashed: {type(error).__name__}: {error}"[:300])
    verdict.taken = nursery.taken
    verdict.problems += _too_much(nursery.taken)
    return verdict


def _judge(verdict: Verdict, path: Path, nursery: Nursery, record: Record, load: LoadTable) -> None:
    by, kind = record.by, verdict.mutant.kind
    try:
        table = read_table(path, LOADERS[kind].columns, UPLOAD_LIMITS, parse=nursery.parse)
    except FileRefused as refused:
        _judge_faults(verdict, path, [refused.fault], whole_file=True)
        return
    preview = check_table(kind, _copied(table), by.studio, by=by, now=NOW)
    if stored_rows() != record.rows:
        verdict.problems.append("the preview changed the database")
    source = Source(Load.Door.COMMAND, path.name, "")
    result, _ = load(kind, [_copied(table)], source, by.studio, by=by, now=NOW)
    verdict.problems += _differences(preview, result)
    if result.faults:
        _judge_faults(verdict, path, list(result.faults), whole_file=False)
        if stored_rows() != record.rows:
            verdict.problems.append("refused, and yet the database changed")
    else:
        verdict.is_accepted = True
        if result.created + result.changed and stored_rows() == record.rows:
            verdict.problems.append("told of changes, and changed nothing")


def _copied(table: Table) -> Table:
    return Table(table.columns, list(table.rows), list(table.messages), table.faults)


def _differences(preview: LoadReport, result: LoadReport) -> Iterator[str]:
    # Ids may differ: a preview that made clients has used some up.
    if len(preview.client_ids) != len(result.client_ids) and not result.faults:
        yield "the clients of the preview are not those of the result"
    for name in ("counts", "changes", "messages", "warnings"):
        if getattr(preview, name) != getattr(result, name) and not result.faults:
            yield f"{name} of the preview are not those of the result"
    if [str(fault) for fault in preview.faults] != [str(fault) for fault in result.faults]:
        yield "the faults of the preview are not those of the result"


def _judge_faults(verdict: Verdict, path: Path, faults: list[Fault], *, whole_file: bool) -> None:
    verdict.said = [str(fault) for fault in faults[:3]]
    for fault in faults:
        said = str(fault)
        if not fault.reason or "\n" in said or not said.isprintable():
            verdict.problems.append(f"a fault that is no clear line: {said!r}"[:200])
        if not whole_file and not (fault.row and fault.column):
            verdict.problems.append(f"a fault without its place: {said!r}"[:200])
        if str(path.parent) in said or MACHINE.search(fault.reason):
            verdict.problems.append(f"a fault that tells of this machine: {said!r}"[:200])


def _too_much(taken: Taken) -> Iterator[str]:
    if taken.status != 0:
        yield f"the child ended with {taken.status}"
    if taken.cpu_seconds > MOST_CPU_SECONDS:
        yield f"took {taken.cpu_seconds:.1f} s"
    if taken.memory_bytes > MOST_MEMORY_BYTES:
        yield f"took {taken.memory_bytes // MEGABYTE} MB"
