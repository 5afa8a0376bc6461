"""The door for files: read, checked, recorded and computed anew in one transaction, or nothing at all."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import NamedTuple, Protocol

from django.db import transaction
from django.utils import timezone

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


class Load(Protocol):
    def __call__(self, table: Table, *, studio: Studio, by: Coach, now: datetime) -> LoadReport: ...


class Loader(NamedTuple):
    columns: Columns
    load: Load


LOADERS = {
    "clients": Loader(CLIENT_COLUMNS, load_clients),
    "blocks": Loader(BLOCK_COLUMNS, load_blocks),
    "logs": Loader(LOG_COLUMNS, load_logs),
}


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
    if progress:
        progress("rows to check and record", len(tables[0].rows))
    with transaction.atomic():
        # Taken out of the list, so that the rows make room before the calculations need it.
        report = LOADERS[kind].load(tables.pop(), studio=studio, by=by, now=moment)
        if report.faults or check_only:
            transaction.set_rollback(True)
        elif report.client_ids:
            _refresh(report, moment, progress)
    return report


def _refresh(report: LoadReport, now: datetime, progress: Progress | None) -> None:
    if progress:
        progress("clients to compute anew", len(report.client_ids))
    refresh_clients(sorted(report.client_ids), now)
