"""Putting session logs into the record: the one place that does, for one log or a hundred thousand sets.

What came in is kept as a submission. The same UUID with the same content changes nothing; with other content it is a
new revision: the old submission stays, replaced, and the session log becomes what the new one says.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Any
from uuid import UUID

from roster.blocks.shelf import NewExercise, Shelf
from roster.logs.entries import SessionEntry, SetEntry
from roster.logs.models import SessionLog, SetLog, Submission

UUIDS_A_QUERY = 900
# The columns of a session log that an entry decides.
DECIDED = (
    "submission",
    "planned_session",
    "performed_on",
    "has_details",
    "minutes",
    "effort",
    "pain",
    "pain_region",
    "note",
)
Key = tuple[int, UUID]


@dataclass(slots=True)
class Revision:
    """An entry with other content than the submission of its UUID that stands in the record."""

    entry: SessionEntry
    standing: Submission


@dataclass(slots=True)
class Comparison:
    """What entries are beside the record."""

    new: list[SessionEntry]
    revised: list[Revision]
    unchanged: list[SessionEntry]


def compare_with_record(entries: Sequence[SessionEntry]) -> Comparison:
    standing = _standing_submissions(entries)
    comparison = Comparison([], [], [])
    for entry in entries:
        submission = standing.get((entry.client.pk, entry.uuid))
        if submission is None:
            comparison.new.append(entry)
        elif submission.fingerprint == entry.fingerprint:
            comparison.unchanged.append(entry)
        else:
            comparison.revised.append(Revision(entry, submission))
    return comparison


def _standing_submissions(entries: Sequence[SessionEntry]) -> dict[Key, Submission]:
    accepted = Submission.objects.filter(verdict=Submission.Verdict.ACCEPTED).defer("payload")
    found = (
        submission
        for uuids in _in_parts([entry.uuid for entry in entries])
        for submission in accepted.filter(uuid__in=uuids).select_related("session_log")
    )
    return {(submission.client_id, submission.uuid): submission for submission in found}


def _in_parts(uuids: Iterable[UUID]) -> Iterator[list[UUID]]:
    rest = iter(uuids)
    while part := list(islice(rest, UUIDS_A_QUERY)):
        yield part


def record(comparison: Comparison, shelf: Shelf, door: str) -> None:
    """Save what is new and what is revised, in a few statements; to be called within a transaction."""
    _record_new(comparison.new, shelf, door)
    _record_revised(comparison.revised, shelf, door)


def exercises_wanted(entries: Iterable[SessionEntry]) -> list[NewExercise]:
    """What the shelf must have for these entries, as far as they tell."""
    return [
        NewExercise(done.exercise, **({"measure": done.measure} if done.measure else {}))
        for entry in entries
        for done in entry.sets or ()
    ]


def _record_new(entries: list[SessionEntry], shelf: Shelf, door: str) -> None:
    submissions = Submission.objects.bulk_create(_submission(entry, 1, door) for entry in entries)
    logs = SessionLog.objects.bulk_create(
        SessionLog(client=entry.client, **_values(entry, submission))
        for entry, submission in zip(entries, submissions, strict=True)
    )
    _record_sets(zip(logs, entries, strict=True), shelf)


def _record_revised(revisions: list[Revision], shelf: Shelf, door: str) -> None:
    submissions = Submission.objects.bulk_create(
        _submission(revision.entry, revision.standing.revision + 1, door) for revision in revisions
    )
    logs = [revision.standing.session_log for revision in revisions]
    for log, revision, submission in zip(logs, revisions, submissions, strict=True):
        for column, value in _values(revision.entry, submission).items():
            setattr(log, column, value)
    SessionLog.objects.bulk_update(logs, DECIDED)
    Submission.objects.filter(pk__in=[revision.standing.pk for revision in revisions]).update(
        verdict=Submission.Verdict.REPLACED
    )
    SetLog.objects.filter(session_log__in=logs).delete()
    _record_sets(((log, revision.entry) for log, revision in zip(logs, revisions, strict=True)), shelf)


def _submission(entry: SessionEntry, revision: int, door: str) -> Submission:
    return Submission(
        client=entry.client,
        uuid=entry.uuid,
        revision=revision,
        door=door,
        payload=entry.payload,
        fingerprint=entry.fingerprint,
    )


def _values(entry: SessionEntry, submission: Submission) -> dict[str, Any]:
    return {
        "submission": submission,
        "planned_session_id": entry.planned_session_id,
        "performed_on": entry.performed_on,
        "has_details": entry.sets is not None,
        "minutes": entry.minutes,
        "effort": entry.effort,
        "pain": entry.pain,
        "pain_region": entry.pain_region,
        "note": entry.note,
    }


def _record_sets(logs: Iterable[tuple[SessionLog, SessionEntry]], shelf: Shelf) -> None:
    SetLog.objects.bulk_create(
        _set_log(log, position, done, shelf)
        for log, entry in logs
        for position, done in enumerate(entry.sets or (), start=1)
    )


def _set_log(log: SessionLog, position: int, done: SetEntry, shelf: Shelf) -> SetLog:
    exercise = shelf[done.exercise]
    return SetLog(
        session_log_id=log.pk,
        exercise_id=exercise.pk,
        position=position,
        number=done.number,
        reps=done.reps,
        measure=done.measure or exercise.measure,
        load_kind=done.load.kind,
        load_entered=done.load.entered,
        load_unit=done.load.unit,
        load_g=done.load.grams,
        band=done.load.band,
        rest_s=done.rest_s,
        is_warm_up=done.is_warm_up,
    )
