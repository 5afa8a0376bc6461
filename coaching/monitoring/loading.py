"""The door for files: read, checked, recorded and computed anew in one transaction, or nothing at all."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from django.db import transaction
from django.utils import timezone

from roster.blocks.block_rows import COLUMNS as BLOCK_COLUMNS
from roster.blocks.loading import load_blocks
from roster.logs.loading import load_logs
from roster.logs.log_rows import COLUMNS as LOG_COLUMNS
from roster.people.client_rows import COLUMNS as CLIENT_COLUMNS
from roster.people.loading import load_clients
from roster.people.models import Coach, Studio
from roster.tables.faults import Faults, FileRefused
from roster.tables.reading import Progress, read_table
from roster.tables.report import LoadReport

LOADERS = {
    "clients": (CLIENT_COLUMNS, load_clients),
    "blocks": (BLOCK_COLUMNS, load_blocks),
    "logs": (LOG_COLUMNS, load_logs),
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
    columns, load = LOADERS[kind]
    try:
        table = read_table(path, columns, progress=progress)
    except FileRefused as refused:
        return LoadReport(kind, faults=Faults([refused.fault], 1))
    moment = now or timezone.now()
    with transaction.atomic():
        report = load(table, studio=studio, by=by, now=moment)
        if report.faults or check_only:
            transaction.set_rollback(True)
        elif report.client_ids:
            _refresh(report, moment, progress)
    return report


def _refresh(report: LoadReport, now: datetime, progress: Callable[[str, int], None] | None) -> None:
    # Imported here: pages reach this module, and the calculations bring the data-frame libraries with them.
    from coaching.monitoring.refresh import refresh_clients

    if progress:
        progress("clients computed anew", len(report.client_ids))
    refresh_clients(sorted(report.client_ids), now)
