"""The door for files: read, checked, recorded and computed anew in one transaction, or nothing at all.

What came in through it is kept as a load, with what it made and changed.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import NamedTuple, Protocol

from django.db import transaction
from django.utils import timezone

from coaching.loads.account import Account
from coaching.loads.models import Load
from coaching.monitoring.refresh import refresh_clients
from roster.blocks.block_rows import COLUMNS as BLOCK_COLUMNS
from roster.blocks.loading import load_blocks
from roster.logs.loading import load_logs
from roster.logs.log_rows import COLUMNS as LOG_COLUMNS
from roster.people.client_rows import COLUMNS as CLIENT_COLUMNS
from roster.people.loading import load_clients
from roster.people.models import Coach, Studio
from roster.tables.faults import Faults, FileRefused
from roster.tables.headers import Columns
from roster.tables.reading import Progress, read_table
from roster.tables.report import LoadReport
from roster.tables.table import Table
from roster.watching import NOBODY, Watcher

MOST_LINES_TOLD = 200


class LoadIntoRecord(Protocol):
    def __call__(
        self, table: Table, *, studio: Studio, by: Coach, now: datetime, watcher: Watcher = NOBODY
    ) -> LoadReport: ...


class Loader(NamedTuple):
    columns: Columns
    load: LoadIntoRecord


LOADERS = {
    "clients": Loader(CLIENT_COLUMNS, load_clients),
    "blocks": Loader(BLOCK_COLUMNS, load_blocks),
    "logs": Loader(LOG_COLUMNS, load_logs),
}


@dataclass(frozen=True, slots=True)
class Source:
    """Where a table came from."""

    door: Load.Door
    file_name: str
    digest: str


def load_file(
    kind: str,
    path: Path,
    studio: Studio,
    *,
    by: Coach,
    check_only: bool = False,
    progress: Progress | None = None,
    now: datetime | None = None,
) -> LoadReport:
    """Load a file of `clients`, `blocks` or `logs`; with any fault, or to check only, nothing is saved."""
    moment = now or timezone.now()
    try:
        tables = [read_table(path, LOADERS[kind].columns, progress=progress)]
    except FileRefused as refused:
        return LoadReport(kind, faults=Faults([refused.fault], 1))
    # Taken out of the list, so that the rows make room before the calculations need it.
    if check_only:
        return check_table(kind, tables.pop(), studio, by=by, now=moment)
    source = Source(Load.Door.COMMAND, path.name, digest_of(path))
    report, _ = load_table(kind, tables, source, studio, by=by, now=moment, progress=progress)
    return report


def digest_of(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def check_table(kind: str, table: Table, studio: Studio, *, by: Coach, now: datetime) -> LoadReport:
    """What loading would do or what is in its way; nothing is saved."""
    with transaction.atomic():
        report = LOADERS[kind].load(table, studio=studio, by=by, now=now)
        transaction.set_rollback(True)
    return report


def load_table(
    kind: str,
    tables: list[Table],
    source: Source,
    studio: Studio,
    *,
    by: Coach,
    now: datetime,
    progress: Progress | None = None,
) -> tuple[LoadReport, Load | None]:
    """Record the table that is taken out of `tables`, and that it was; with any fault, nothing."""
    account = Account()
    with transaction.atomic():
        rows = len(tables[0].rows)
        if progress:
            progress("rows to check and record", rows)
        report = LOADERS[kind].load(tables.pop(), studio=studio, by=by, now=now, watcher=account)
        if report.faults:
            transaction.set_rollback(True)
            return report, None
        load = _keep(kind, rows, source, studio, by, now, report, account)
        refresh(report.client_ids, now, progress)
    return report, load


def _keep(
    kind: str,
    rows: int,
    source: Source,
    studio: Studio,
    by: Coach,
    now: datetime,
    report: LoadReport,
    account: Account,
) -> Load:
    load = Load.objects.create(
        studio=studio,
        by=by,
        door=source.door,
        kind=kind,
        file_name=source.file_name[-255:],
        digest=source.digest,
        rows=rows,
        created=report.created,
        changed=report.changed,
        unchanged=report.unchanged,
        told=told_of(report),
        made=account.spans_made(),
        said_again=account.spans_said_again(),
        loaded_at=now,
    )
    account.keep(load)
    return load


def told_of(report: LoadReport) -> dict[str, list[str]]:
    """What is said of a load in lines, as many as somebody may read; the last counts the rest."""
    lines = {"changes": report.changes, "messages": report.messages, "warnings": report.warnings}
    return {name: _shortened(list(said)) for name, said in lines.items() if said}


def _shortened(lines: list[str]) -> list[str]:
    more = len(lines) - MOST_LINES_TOLD
    return [*lines[:MOST_LINES_TOLD], f"and {more:,} more"] if more > 0 else lines


def refresh(client_ids: set[int], now: datetime, progress: Progress | None = None) -> None:
    """Facts and findings of these clients alone, computed anew."""
    if not client_ids:
        return
    if progress:
        progress("clients to compute anew", len(client_ids))
    refresh_clients(client_ids, now, lambda done: progress and progress("clients computed anew", done))
