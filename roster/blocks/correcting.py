"""Bringing a block of the record up to what a file says of it, row by row, telling what changes."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from django.db.models import Model

from roster.blocks.block_rows import BlockEntry, SessionEntry, SessionKey, session_key
from roster.blocks.models import Block, PlannedExercise, PlannedSession
from roster.blocks.planned_values import block_values, exercise_values, session_identity, session_values
from roster.blocks.shelf import Shelf
from roster.mass import LoadKind
from roster.tables.faults import Faults


@dataclass
class _Correction:
    block: Block
    entry: BlockEntry
    shelf: Shelf
    faults: Faults
    changes: list[str] = field(default_factory=list)

    def tell(self, session: str, change: str) -> None:
        self.changes.append(f"{self.entry.client.key}, {self.block.label}{session}: {change}")


def correct_block(block: Block, entry: BlockEntry, shelf: Shelf, faults: Faults, now: datetime) -> list[str]:
    """The changes made, in words; none when the record says already what the file says."""
    correction = _Correction(block, entry, shelf, faults)
    there = {_key_of(session): session for session in block.sessions.all()}
    _drop_sessions(correction, [session for key, session in there.items() if key not in entry.sessions])
    for key, session in entry.sessions.items():
        if key in there:
            _correct_session(correction, there[key], session)
        else:
            _add_session(correction, session)
    _correct_head(correction, now)
    return correction.changes


def _key_of(session: PlannedSession) -> SessionKey:
    return session_key(session.week, session.label, session.suggested_on.weekday())


def _drop_sessions(correction: _Correction, sessions: list[PlannedSession]) -> None:
    for session in sessions:
        if session.session_logs.exists():
            reason = f"of week {session.week} is gone from the file, but logs name it: it can't be dropped"
            correction.faults.add(correction.entry.row, "session", _label_of(session), reason)
        else:
            session.delete()
            correction.tell(_place(session), "dropped")


def _add_session(correction: _Correction, asked: SessionEntry) -> None:
    identity, values = session_identity(asked), session_values(correction.entry, asked)
    session = correction.block.sessions.create(**identity, **values)
    session.exercises.bulk_create(
        PlannedExercise(session=session, position=position, **exercise_values(row, correction.shelf))
        for position, row in enumerate(asked.exercises, start=1)
    )
    correction.tell(_place(session), "added")


def _correct_session(correction: _Correction, session: PlannedSession, asked: SessionEntry) -> None:
    for name, before, after in _change(session, session_values(correction.entry, asked)):
        correction.tell(_place(session), f"{_words(name)} {before} → {after}")
    there = {exercise.position: exercise for exercise in session.exercises.all()}
    for position, row in enumerate(asked.exercises, start=1):
        values = exercise_values(row, correction.shelf)
        if position in there:
            _correct_exercise(correction, session, there.pop(position), values)
        else:
            added = session.exercises.create(position=position, **values)
            correction.tell(_place(session), f"{added.exercise}, {_asked(added)}, added")
    for exercise in there.values():
        exercise.delete()
        correction.tell(_place(session), f"{exercise.exercise} at position {exercise.position} dropped")


def _correct_exercise(
    correction: _Correction, session: PlannedSession, exercise: PlannedExercise, values: dict[str, Any]
) -> None:
    before = f"{exercise.exercise}, {_asked(exercise)}"
    changed = _change(exercise, values)
    after = f"{exercise.exercise}, {_asked(exercise)}"
    if changed and before != after:
        correction.tell(_place(session), f"{before} → {after}")
    elif changed:
        names = ", ".join(f"{_words(name)} {_said(old)} → {_said(new)}" for name, old, new in changed)
        correction.tell(_place(session), f"{exercise.exercise}: {names}")


def _correct_head(correction: _Correction, now: datetime) -> None:
    block = correction.block
    for name, before, after in _change(block, block_values(correction.entry)):
        correction.tell("", f"{_words(name)} {before} → {after}")
    if block.published_at is None:
        block.published_at = now
        correction.tell("", "published")
    if correction.changes:
        block.version += 1
        block.save(update_fields=["published_at", "version"])


def _change(row: Model, values: dict[str, Any]) -> list[tuple[str, Any, Any]]:
    """Set what differs, save it, and tell the columns with what they held and hold."""
    changed = [(name, getattr(row, name), value) for name, value in values.items() if getattr(row, name) != value]
    for name, _, value in changed:
        setattr(row, name, value)
    if changed:
        row.save(update_fields=[name for name, _, _ in changed])
    return changed


def _place(session: PlannedSession) -> str:
    return f", week {session.week}, {_label_of(session)}"


def _label_of(session: PlannedSession) -> str:
    return session.label or f"{session.suggested_on:%a}".lower()


def _asked(exercise: PlannedExercise) -> str:
    targets = exercise.set_targets or [exercise.reps]
    unit = "" if exercise.measure == "reps" else f" {exercise.measure}"
    each = " each" if exercise.is_each_side else ""
    rest = "" if exercise.rest_s is None else f", rest {exercise.rest_s} s"
    return f"{exercise.sets} x {'-'.join(map(str, targets))}{unit}{each}, {_load(exercise)}{rest}"


def _load(exercise: PlannedExercise) -> str:
    if exercise.load_kind == LoadKind.MASS and exercise.load_entered is not None:
        pair = "2 x " if exercise.implements_used == 2 else ""
        return f"{pair}{exercise.load_entered.normalize():f} {exercise.load_unit}"
    return f"band {exercise.band}" if exercise.load_kind == LoadKind.BAND else "body weight"


def _words(name: str) -> str:
    return name.replace("_", " ")


def _said(value: object) -> str:
    return "none" if value in (None, "") else str(value)
