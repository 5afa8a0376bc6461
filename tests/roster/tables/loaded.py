"""Loading a text through one of the roster's loaders, without the calculations that follow."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from roster.people.models import Coach
from roster.tables.headers import Columns
from roster.tables.parsing import parse_file
from roster.tables.reading import read_table
from roster.tables.report import LoadReport

NOW = datetime(2026, 4, 15, 7, tzinfo=UTC)


def load_text(
    load: Callable[..., LoadReport], columns: Columns, directory: Path, by: Coach, text: str, now: datetime = NOW
) -> LoadReport:
    path = directory / "file.csv"
    path.write_text(text)
    return load(read_table(path, columns, parse=parse_file), studio=by.studio, by=by, now=now)


def faults_of(report: LoadReport) -> list[str]:
    return [str(fault) for fault in report.faults]
