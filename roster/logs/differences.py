"""What a new revision of a session log says otherwise than the one before, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from roster.batches import in_batches
from roster.labels import fold
from roster.logs.entries import SessionEntry, SetEntry, plain
from roster.logs.models import SessionLog, SetLog
from roster.logs.recording import Revision, log_of
from roster.mass import LoadKind


def describe_revisions(revisions: Sequence[Revision]) -> list[str]:
    """A line for each, as the record stands before they are recorded."""
    sets_before: dict[int, list[SetLog]] = {}
    for batch in in_batches(revision.standing.pk for revision in revisions):
        for done in SetLog.objects.filter(session_log__submission__in=batch).select_related("exercise"):
            sets_before.setdefault(done.session_log_id, []).append(done)
    return [_describe(revision.entry, log_of(revision.standing), sets_before) for revision in revisions]


def _describe(entry: SessionEntry, log: SessionLog | None, sets_before: dict[int, list[SetLog]]) -> str:
    day = log.performed_on if log else entry.performed_on
    told = _differences(log, sets_before.get(log.pk, []), entry) if log else ["recorded again, its log was gone"]
    return f"{entry.client.key}, {day}{_called(entry)}: {'; '.join(told)}"


def _called(entry: SessionEntry) -> str:
    return f", {entry.names[0]} week {entry.names[1]} {entry.names[2]}" if entry.names else ""


def _differences(log: SessionLog, sets_before: list[SetLog], entry: SessionEntry) -> Iterator[str]:
    told = [*_of_session(log, entry), *_of_sets(sets_before, entry)]
    yield from told or ["told in another order"]


def _of_session(log: SessionLog, entry: SessionEntry) -> Iterator[str]:
    if log.performed_on != entry.performed_on:
        yield f"performed on {log.performed_on} → {entry.performed_on}"
    if log.planned_session_id != entry.planned_session_id:
        yield "another planned session"
    if log.has_details != (entry.sets is not None):
        yield "with details" if entry.sets is not None else "without details"
    for name in ("minutes", "effort", "pain", "pain_region"):
        before, after = getattr(log, name), getattr(entry, name)
        if before != after:
            yield f"{name.replace('_', ' ')} {_said(before)} → {_said(after)}"
    if log.note != entry.note:
        yield "another note"


def _of_sets(sets_before: list[SetLog], entry: SessionEntry) -> Iterator[str]:
    before = {(fold(done.exercise.name), done.number): (done.exercise.name, _done_before(done)) for done in sets_before}
    after = {(fold(done.exercise), done.number): (done.exercise, _done_now(done)) for done in entry.sets or ()}
    for key, (exercise, line) in before.items():
        if key not in after:
            yield f"{exercise} set {key[1]} gone ({line})"
        elif after[key][1] != line:
            yield f"{exercise} set {key[1]}: {line} → {after[key][1]}"
    for key, (exercise, line) in after.items():
        if key not in before:
            yield f"{exercise} set {key[1]} added ({line})"


def _done_before(done: SetLog) -> str:
    if done.load_kind == LoadKind.MASS and done.load_entered is not None:
        load = f"{plain(done.load_entered)} {done.load_unit}"
    else:
        load = f"band {done.band}" if done.load_kind == LoadKind.BAND else "body weight"
    return _line(done.reps, load, done.rest_s, done.is_warm_up)


def _done_now(done: SetEntry) -> str:
    return _line(done.reps, str(done.load), done.rest_s, done.is_warm_up)


def _line(reps: int, load: str, rest_s: int | None, is_warm_up: bool) -> str:
    rest = "" if rest_s is None else f", rest {rest_s} s"
    return f"{reps} x {load}{rest}{', warm-up' if is_warm_up else ''}"


def _said(value: Decimal | str | None) -> str:
    if isinstance(value, Decimal):
        return plain(value)
    return value or "none"
