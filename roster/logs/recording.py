"""Putting session logs into the record: the one place that does, for one log or a hundred thousand sets.

What came in is kept as a submission. The same UUID with the same content changes nothing; with other content it is a
new revision: the old submission stays, replaced, and the session log becomes what the new one says. One that was
withdrawn is out of the record, but its number is not given twice.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from uuid import UUID

from roster.batches import in_batches
from roster.blocks.shelf import NewExercise, Shelf
from roster.logs.entries import SessionEntry, SetEntry
from roster.logs.models import SessionLog, SetLog, Submission

# What an entry decides of a session log.
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
    # The submissions that say already what an entry says.
    unchanged: list[Submission]
    # The number given last to each UUID that has come in before, though that revision may be withdrawn.
    last_revisions: dict[Key, int]

    def next_revision(self, entry: SessionEntry) -> int:
        return self.last_revisions.get(_key(entry), 0) + 1


def compare_with_record(entries: Sequence[SessionEntry]) -> Comparison:
    came_before = _submissions_before(entries)
    standing = {_key(one): one for one in came_before if one.verdict == Submission.Verdict.ACCEPTED}
    comparison = Comparison([], [], [], {_key(one): one.revision for one in came_before})
    for entry in entries:
        submission = standing.get(_key(entry))
        if submission is None:
            comparison.new.append(entry)
        elif _is_same(submission, entry):
            comparison.unchanged.append(submission)
        else:
            comparison.revised.append(Revision(entry, submission))
    return comparison


def _key(told: SessionEntry | Submission) -> Key:
    return (told.client.pk if isinstance(told, SessionEntry) else told.client_id), told.uuid


def _is_same(submission: Submission, entry: SessionEntry) -> bool:
    """A log that lost its planned session, or is gone itself, is not the same: it has to be put right."""
    log = log_of(submission)
    return (
        log is not None
        and submission.fingerprint == entry.fingerprint
        and log.planned_session_id == entry.planned_session_id
    )


def log_of(submission: Submission) -> SessionLog | None:
    """None when the log was taken away and its submission stayed."""
    return getattr(submission, "session_log", None)


def _submissions_before(entries: Sequence[SessionEntry]) -> list[Submission]:
    """What stands in the record or was withdrawn from it, the earlier revision first."""
    submissions = Submission.objects.exclude(verdict=Submission.Verdict.REPLACED).defer("payload").order_by("revision")
    return [
        submission
        for uuids in in_batches(entry.uuid for entry in entries)
        for submission in submissions.filter(uuid__in=uuids).select_related("session_log")
    ]


def record(comparison: Comparison, shelf: Shelf, door: str) -> list[Submission]:
    """Save what is new, then what is revised, in a few statements; to be called within a transaction."""
    revised = comparison.revised
    entries = [*comparison.new, *(revision.entry for revision in revised)]
    logs = [None] * len(comparison.new) + [log_of(revision.standing) for revision in revised]
    _retire([revision.standing for revision in revised])
    submissions = Submission.objects.bulk_create(
        _submission(entry, comparison.next_revision(entry), door) for entry in entries
    )
    _record_logs(entries, submissions, logs, shelf)
    return submissions


def exercises_wanted(entries: Iterable[SessionEntry]) -> list[NewExercise]:
    """What the shelf must have for these entries, as far as they tell."""
    return [
        NewExercise(done.exercise, **({"measure": done.measure} if done.measure else {}))
        for entry in entries
        for done in entry.sets or ()
    ]


def _retire(standing: list[Submission]) -> None:
    for batch in in_batches(submission.pk for submission in standing):
        SetLog.objects.filter(session_log__submission__in=batch).delete()
        Submission.objects.filter(pk__in=batch).update(verdict=Submission.Verdict.REPLACED)


def _record_logs(
    entries: list[SessionEntry], submissions: list[Submission], logs: list[SessionLog | None], shelf: Shelf
) -> None:
    filled = [
        _fill(log or SessionLog(client=entry.client), entry, submission)
        for entry, submission, log in zip(entries, submissions, logs, strict=True)
    ]
    SessionLog.objects.bulk_create([log for log in filled if log.pk is None])
    SessionLog.objects.bulk_update([log for log in logs if log is not None], DECIDED)
    SetLog.objects.bulk_create(
        _set_log(log, position, done, shelf)
        for log, entry in zip(filled, entries, strict=True)
        for position, done in enumerate(entry.sets or (), start=1)
    )


def _submission(entry: SessionEntry, revision: int, door: str) -> Submission:
    return Submission(
        client=entry.client,
        uuid=entry.uuid,
        revision=revision,
        door=door,
        payload=entry.payload,
        fingerprint=entry.fingerprint,
    )


def _fill(log: SessionLog, entry: SessionEntry, submission: Submission) -> SessionLog:
    log.submission = submission
    log.planned_session_id = entry.planned_session_id
    log.performed_on = entry.performed_on
    log.has_details = entry.sets is not None
    log.minutes = entry.minutes
    log.effort = entry.effort
    log.pain = entry.pain
    log.pain_region = entry.pain_region
    log.note = entry.note
    return log


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
