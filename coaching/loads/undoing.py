"""Undoing a load: all of it or nothing, so that the record stands as if the file had never been taken.

A log that goes is withdrawn: out of every figure, but kept as it came; the revision before it stands again.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.db import transaction
from django.db.models import F

from coaching.loads import snapshots
from coaching.loads.done import Done, what_was_done
from coaching.loads.in_the_way import InTheWay, find_in_the_way
from coaching.loads.loading import refresh
from coaching.loads.models import KeptSubmission, Load
from coaching.loads.referring import exercises_used_elsewhere
from roster.batches import in_batches
from roster.blocks.models import Block, Exercise
from roster.logs.models import SessionLog, SetLog, Submission
from roster.people.models import Client, Coach
from roster.tables.reading import Progress
from roster.watching import Thing

SESSION_LOG, SET_LOG = SessionLog._meta.label_lower, SetLog._meta.label_lower


class UndoRefused(Exception):
    """The load can't be undone: `in_the_way` tells why, or it was undone already."""

    def __init__(self, in_the_way: InTheWay | None = None) -> None:
        super().__init__("the load is undone already" if in_the_way is None else "something stands in the way")
        self.in_the_way = in_the_way


@dataclass(frozen=True)
class UndoPlan:
    """What undoing would do: how many of each thing go, go back, and of the exercises stay."""

    in_the_way: InTheWay
    going: dict[Thing, int]
    going_back: dict[Thing, int]
    exercises_staying: list[str]


def plan_undo(load: Load, by: Coach) -> UndoPlan:
    done = what_was_done(load)
    staying = _exercises_staying(done)
    going = {thing: len(ids) for thing, ids in done.made.items()}
    going[Thing.EXERCISE] -= len(staying)
    names = Exercise.objects.filter(pk__in=staying).values_list("name", flat=True)
    going_back = {thing: len(differences) for thing, differences in done.differences.items()}
    return UndoPlan(find_in_the_way(done, by), going, going_back, list(names))


@transaction.atomic
def undo_load(load: Load, *, by: Coach, now: datetime, progress: Progress | None = None) -> None:
    """Take back what the load did and compute its clients anew; raises UndoRefused, and then nothing is changed."""
    if not Load.objects.standing().filter(pk=load.pk).update(undone_at=now, undone_by=by):
        raise UndoRefused
    done = what_was_done(load)
    if in_the_way := find_in_the_way(done, by):
        raise UndoRefused(in_the_way)
    touched = done.client_ids()
    if progress:
        progress("clients whose record goes back", len(touched))
    staying = _exercises_staying(done)
    _take_back_logs(done)
    for thing in (Thing.BLOCK, Thing.CLIENT):
        for left in done.differences[thing].values():
            snapshots.take_back(left)
    _delete_made(done, staying)
    refresh(touched - set(done.made[Thing.CLIENT]), now, progress)


def _exercises_staying(done: Done) -> set[int]:
    """Used elsewhere by now, or given more than the load gave it."""
    now = snapshots.take(Thing.EXERCISE, done.made[Thing.EXERCISE])
    told = done.fingerprints[Thing.EXERCISE]
    edited = {pk for pk, rows in now.items() if snapshots.fingerprint(rows) != told.get(pk)}
    return edited | exercises_used_elsewhere(done)


def _take_back_logs(done: Done) -> None:
    revised = done.differences[Thing.LOG]
    for batch in in_batches(done.made[Thing.LOG]):
        SessionLog.objects.filter(submission__in=batch).delete()
    for batch in in_batches(done.touched(Thing.LOG)):
        Submission.objects.filter(pk__in=batch).update(verdict=Submission.Verdict.WITHDRAWN)
    for pk, before in revised.items():
        _stand_again(pk, before["submission"], before["log"])


def _stand_again(revision: int, earlier: int, log: snapshots.Rows) -> None:
    """The revision before is what the record says again, set by set."""
    SetLog.objects.filter(session_log__submission=revision).delete()
    Submission.objects.filter(pk=earlier).update(verdict=Submission.Verdict.ACCEPTED)
    if not log:
        # It had lost its log before.
        SessionLog.objects.filter(submission=revision).delete()
    for row in log.get(SESSION_LOG, {}).values():
        snapshots.put_back(SessionLog, row["id"], row)
    snapshots.restore(SetLog, log.get(SET_LOG, {}).values())


def _delete_made(done: Done, staying: set[int]) -> None:
    for batch in in_batches(done.made[Thing.BLOCK]):
        Block.objects.filter(pk__in=batch).delete()
    for batch in in_batches(done.made[Thing.CLIENT]):
        _keep_submissions(done.load, batch)
        Client.objects.filter(pk__in=batch).delete()
    for batch in in_batches(set(done.made[Thing.EXERCISE]) - staying):
        Exercise.objects.filter(pk__in=batch).delete()


def _keep_submissions(load: Load, client_ids: list[int]) -> None:
    columns = ("uuid", "revision", "door", "payload", "fingerprint", "received_at")
    withdrawn = Submission.objects.filter(client__in=client_ids).values(*columns, client_key=F("client__key"))
    KeptSubmission.objects.bulk_create(KeptSubmission(load=load, **row) for row in withdrawn)
