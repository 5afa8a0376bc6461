"""A file under review: checked as a whole, mended cell by cell, rows left out, and taken once it is sound."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import astuple
from datetime import datetime

from django.db import transaction
from django.db.models import F

from coaching.loads import kept_lines, loading
from coaching.loads.models import FileInReview, Load
from roster.people.models import Coach
from roster.tables.faults import Fault, FileRefused
from roster.tables.reading import Progress
from roster.tables.report import LoadReport
from roster.tables.table import Table

LONGEST_MEND = 100_000
NOTHING_LEFT = "every row is left out: there is nothing to load"
# What is said of the next load and must be so when it happens.
PROMISED = ("created", "changed", "unchanged")


class ReviewOutdated(Exception):
    """The file or the record is no longer as it was when this was decided; what is there now is to be looked at."""


def check(file: FileInReview, now: datetime, progress: Progress | None = None) -> None:
    """Look through the whole file as it stands, mends and all, and keep what was found; nothing is recorded."""
    if file.kind:
        table = _table(file)
        file.rows = len(table.rows)
        if progress:
            progress("rows to check", file.rows)
        _keep(file, _report(file, table, now), now)
    file.save()


def _table(file: FileInReview) -> Table:
    return kept_lines.mended(kept_lines.table_as_it_came(file), file.mends, file.left_out)


def _report(file: FileInReview, table: Table, now: datetime) -> LoadReport:
    if not table.rows:
        report = LoadReport(file.kind)
        report.faults.add(None, None, "", NOTHING_LEFT)
        return report
    return loading.check_table(file.kind, table, file.studio, by=file.coach, now=now)


def _keep(file: FileInReview, report: LoadReport, now: datetime) -> None:
    file.faults = [list(astuple(fault)) for fault in report.faults]
    file.faults_total = report.faults.total
    file.faulty_rows = len({fault.row for fault in report.faults if fault.row is not None})
    file.created, file.changed, file.unchanged = report.created, report.changed, report.unchanged
    file.told = loading.told_of(report)
    file.checked_at = now


def faults_of(file: FileInReview) -> list[Fault]:
    return [Fault(*fault) for fault in file.faults]


def choose_kind(file: FileInReview, kind: str, now: datetime) -> None:
    """Read the file as one of another kind; raises FileRefused when it can't be, and then nothing is changed."""
    before, file.kind = file.kind, kind
    try:
        kept_lines.table_as_it_came(file)
    except FileRefused:
        file.kind = before
        raise
    file.mends, file.left_out = ({}, []) if kind != before else (file.mends, file.left_out)
    _touch(file, now)
    check(file, now)


def mend(
    file: FileInReview,
    cells: Mapping[tuple[int, str], str],
    *,
    leave_out: Iterable[int] = (),
    put_back: Iterable[int] = (),
    now: datetime,
    progress: Progress | None = None,
) -> None:
    """Set cells, leave rows out or put them back, and check the whole file anew; a cell as it came is no mend."""
    table = kept_lines.table_as_it_came(file)
    came = {row.number: row for row in table.rows}
    for (number, column), text in cells.items():
        if number in came and column in table:
            _set(file, number, column, text.strip()[:LONGEST_MEND], str(came[number].cells[table.columns[column]]))
    left_out = (set(file.left_out) | set(leave_out)) - set(put_back)
    file.left_out = sorted(left_out & (came.keys() | {fault.row for fault in table.faults}))
    _touch(file, now)
    check(file, now, progress)


def _set(file: FileInReview, number: int, column: str, text: str, as_it_came: str) -> None:
    of_row = file.mends.setdefault(str(number), {})
    if text == as_it_came:
        of_row.pop(column, None)
    else:
        of_row[column] = text
    if not of_row:
        del file.mends[str(number)]


def _touch(file: FileInReview, now: datetime) -> None:
    file.version += 1
    file.touched_at = now


def confirm(
    file: FileInReview, *, by: Coach, version: int, now: datetime, progress: Progress | None = None
) -> Load:
    """Take the file into the record, once, as the last check said; otherwise check anew and raise ReviewOutdated."""
    try:
        return _take(file, by, version, now, progress)
    except ReviewOutdated:
        file.refresh_from_db()
        if file.load:
            return file.load
        check(file, now)
        raise


@transaction.atomic
def _take(file: FileInReview, by: Coach, version: int, now: datetime, progress: Progress | None) -> Load:
    # Within the transaction: whoever comes second waits here, and finds the file taken.
    ours = FileInReview.objects.waiting().filter(pk=file.pk, version=version, faults_total=0, checked_at__isnull=False)
    if not ours.update(version=F("version") + 1):
        raise ReviewOutdated
    source = loading.Source(Load.Door.BROWSER, file.file_name, file.digest)
    report, load = loading.load_table(
        file.kind, [_table(file)], source, file.studio, by=by, now=now, progress=progress
    )
    if load is None or not _is_as_promised(file, report):
        raise ReviewOutdated
    load.told |= _what_was_done_to_it(file)
    load.save(update_fields=["told"])
    taken = {"load": load, "lines": b"", "faults": [], "told": {}, "mends": {}, "left_out": []}
    FileInReview.objects.filter(pk=file.pk).update(**taken)
    return load


def _is_as_promised(file: FileInReview, report: LoadReport) -> bool:
    counts = all(getattr(file, name) == getattr(report, name) for name in PROMISED)
    return counts and file.told.get("changes", []) == loading.told_of(report).get("changes", [])


def _what_was_done_to_it(file: FileInReview) -> dict[str, list[str]]:
    table = kept_lines.table_as_it_came(file)
    came = {row.number: table.filled_cells(row) for row in table.rows}
    mended = [
        f"row {number}, {column}: “{came[int(number)].get(column, '')}” → “{text}”"
        for number, cells in file.mends.items()
        for column, text in cells.items()
    ]
    left_out = [f"row {number}: {', '.join(came.get(number, {}).values())}" for number in file.left_out]
    return {name: lines for name, lines in (("mended", mended), ("left_out", left_out)) if lines}
