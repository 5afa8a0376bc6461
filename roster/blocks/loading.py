"""Loading a file of blocks: each is published as the file has it; one that is there already becomes what the file says.

Planned sessions and exercises keep their rows where week and label (or day) and position are the same, so that logs
which named a session stay with it. A session that logs named can't be dropped.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from roster.blocks.block_rows import BlockEntry, ExerciseEntry, read_block_entries
from roster.blocks.correcting import correct_block
from roster.blocks.models import Block, PlannedExercise, PlannedSession, Slot
from roster.blocks.plan_warnings import loads_off_the_kit, overlaps
from roster.blocks.planned_values import block_values, exercise_values, session_identity, session_values
from roster.blocks.shelf import NewExercise, Shelf
from roster.labels import fold
from roster.people.models import Client, Coach, Studio
from roster.tables.report import LoadReport
from roster.tables.table import Table
from roster.watching import NOBODY, Thing, Watcher


def load_blocks(
    table: Table, *, studio: Studio, by: Coach, now: datetime, watcher: Watcher = NOBODY
) -> LoadReport:
    """Save and publish every block, or, when the report has faults, nothing."""
    report = LoadReport("blocks", messages=list(table.messages))
    clients = {client.key_folded: client for client in Client.objects.changeable_by(by).filter(studio=studio)}
    entries = read_block_entries(table, report.faults, clients)
    if report.faults:
        return report
    shelf = Shelf(studio)
    shelf.add_unknown([_as_new(row) for row in _rows_of(entries)], report, watcher)
    _save(entries, shelf, report, now, watcher)
    report.warnings += [*loads_off_the_kit(entries), *overlaps(entries)]
    return report


def _rows_of(entries: Iterable[BlockEntry]) -> Iterable[ExerciseEntry]:
    return (row for entry in entries for session in entry.sessions.values() for row in session.exercises)


def _as_new(row: ExerciseEntry) -> NewExercise:
    measure = {"measure": row.targets.measure} if row.targets.measure else {}
    return NewExercise(row.exercise, row.slot or Slot.EXTRA.value, row.implement, **measure)


def _save(entries: list[BlockEntry], shelf: Shelf, report: LoadReport, now: datetime, watcher: Watcher) -> None:
    there = _blocks_there(entries)
    watcher.before_changing(Thing.BLOCK, [block.pk for block in there.values()])
    new = [entry for entry in entries if entry.identity not in there]
    watcher.made(Thing.BLOCK, _create(new, shelf, now))
    report.created = len(new)
    report.client_ids.update(entry.client.pk for entry in new)
    for entry in entries:
        if entry.identity in there:
            block = there[entry.identity]
            changes = correct_block(block, entry, shelf, report.faults, now)
            _note_correction(report, entry, changes)
            (watcher.changed if changes else watcher.said_again)(Thing.BLOCK, [block.pk])


def _note_correction(report: LoadReport, entry: BlockEntry, changes: list[str]) -> None:
    if not changes:
        report.unchanged += 1
        return
    report.changed += 1
    report.changes += changes
    report.client_ids.add(entry.client.pk)


def _blocks_there(entries: list[BlockEntry]) -> dict[tuple[int, str], Block]:
    wanted = {entry.identity for entry in entries}
    of_studio = Block.objects.filter(client__studio__in={entry.client.studio_id for entry in entries})
    keys = {pk: identity for pk, *identity in of_studio.values_list("pk", "client_id", "label_folded")}
    found = [pk for pk, identity in keys.items() if tuple(identity) in wanted]
    blocks = of_studio.prefetch_related("sessions__exercises__exercise").in_bulk(found)
    return {(block.client_id, block.label_folded): block for block in blocks.values()}


def _create(entries: list[BlockEntry], shelf: Shelf, now: datetime) -> list[int]:
    blocks = Block.objects.bulk_create(_new_block(entry, now) for entry in entries)
    asked = [
        (block, entry, session)
        for block, entry in zip(blocks, entries, strict=True)
        for session in entry.sessions.values()
    ]
    sessions = PlannedSession.objects.bulk_create(
        PlannedSession(block=block, **session_identity(session), **session_values(entry, session))
        for block, entry, session in asked
    )
    PlannedExercise.objects.bulk_create(
        PlannedExercise(session=planned, position=position, **exercise_values(row, shelf))
        for planned, (_, _, session) in zip(sessions, asked, strict=True)
        for position, row in enumerate(session.exercises, start=1)
    )
    return [block.pk for block in blocks]


def _new_block(entry: BlockEntry, now: datetime) -> Block:
    return Block(
        client=entry.client,
        label=entry.label,
        label_folded=fold(entry.label),
        published_at=now,
        **block_values(entry),
    )
