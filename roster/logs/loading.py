"""Loading a file of logs into the record."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from roster.blocks.plan_index import PlanIndex
from roster.blocks.shelf import Shelf
from roster.labels import fold
from roster.logs.differences import describe_revisions
from roster.logs.entries import SessionEntry
from roster.logs.log_groups import LogGroups
from roster.logs.log_rows import LogRow, LogRowReader
from roster.logs.models import Submission
from roster.logs.recording import Comparison, compare_with_record, exercises_wanted, record
from roster.people.models import Client, Coach, Studio
from roster.tables.report import LoadReport
from roster.tables.table import Table
from roster.watching import NOBODY, Thing, Watcher

LoggedSession = tuple[LogRow, SessionEntry]
# Somebody far to the east may be a day ahead of the zone that is on record.
LEEWAY = timedelta(days=1)


def load_logs(
    table: Table, *, studio: Studio, by: Coach, now: datetime, watcher: Watcher = NOBODY
) -> LoadReport:
    """Save every session log of the file, or, when the report has faults, nothing."""
    report = LoadReport("session logs", messages=list(table.messages))
    plan, sessions = _read_sessions(table, report, studio, by)
    if report.faults:
        return report
    entries = [entry for _, entry in sessions]
    shelf = Shelf(studio)
    shelf.add_unknown(exercises_wanted(entries), report, watcher)
    report.messages += _extra_work(sessions, plan, shelf)
    report.warnings += _pain_without_figure(sessions)
    report.warnings += _still_to_come(sessions, now)
    comparison = compare_with_record(entries)
    _note(report, comparison)
    _record(comparison, shelf, watcher)
    return report


def _record(comparison: Comparison, shelf: Shelf, watcher: Watcher) -> None:
    watcher.before_changing(Thing.LOG, [revision.standing.pk for revision in comparison.revised])
    submissions = [submission.pk for submission in record(comparison, shelf, Submission.Door.FILE.value)]
    watcher.made(Thing.LOG, submissions[: len(comparison.new)])
    watcher.changed(Thing.LOG, submissions[len(comparison.new) :])
    watcher.said_again(Thing.LOG, [submission.pk for submission in comparison.unchanged])


def _read_sessions(
    table: Table, report: LoadReport, studio: Studio, by: Coach
) -> tuple[PlanIndex, list[LoggedSession]]:
    clients = {client.key_folded: client for client in Client.objects.changeable_by(by).filter(studio=studio)}
    reader = LogRowReader(table, report.faults, clients)
    rows = [row for row in map(reader.read, table.rows) if row is not None]
    plan = PlanIndex({row.client.pk for row in rows})
    return plan, LogGroups(table, plan, report.faults).entries(rows)


def _note(report: LoadReport, comparison: Comparison) -> None:
    report.created = len(comparison.new)
    report.changed = len(comparison.revised)
    report.unchanged = len(comparison.unchanged)
    report.changes = describe_revisions(comparison.revised)
    report.client_ids.update(entry.client.pk for entry in comparison.new)
    report.client_ids.update(revision.entry.client.pk for revision in comparison.revised)


def _extra_work(sessions: Iterable[LoggedSession], plan: PlanIndex, shelf: Shelf) -> Iterator[str]:
    """Exercises that the named session, or with no name the plan of that week, does not ask for."""
    found: dict[tuple[int, str], list[LoggedSession]] = {}
    for row, entry in sessions:
        asked = plan.asked(entry.client.pk, entry.performed_on, entry.planned_session_id)
        for name in dict.fromkeys(fold(done.exercise) for done in entry.sets or ()):
            if shelf[name].pk not in asked:
                found.setdefault((entry.client.pk, name), []).append((row, entry))
    for (_, name), logged in found.items():
        row, entry = logged[0]
        times = "1 session" if len(logged) == 1 else f"{len(logged)} sessions"
        yield f"row {row.number}: {entry.client.key}: “{shelf[name]}” was not planned, taken as extra work ({times})"


def _pain_without_figure(sessions: Iterable[LoggedSession]) -> Iterator[str]:
    for row, entry in sessions:
        if entry.pain_region and entry.pain is None:
            yield f"row {row.number}: {entry.client.key}: pain in “{entry.pain_region}” without its figure"


def _still_to_come(sessions: Iterable[LoggedSession], now: datetime) -> Iterator[str]:
    """Days after the client's tomorrow: taken as they are, for clocks and zones differ, and said."""
    for row, entry in sessions:
        if entry.performed_on > entry.client.today(now) + LEEWAY:
            yield f"row {row.number}: {entry.client.key}: {entry.performed_on} is still to come"
