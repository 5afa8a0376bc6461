"""What a row of a file means in the columns of the record."""

from __future__ import annotations

from typing import Any

from roster.blocks.block_rows import BlockEntry, ExerciseEntry, SessionEntry
from roster.blocks.models import Measure
from roster.blocks.shelf import Shelf
from roster.labels import fold


def block_values(entry: BlockEntry) -> dict[str, Any]:
    return {"starts_on": entry.starts_on, "weeks": entry.weeks}


def session_values(entry: BlockEntry, session: SessionEntry) -> dict[str, Any]:
    return {"suggested_on": entry.day_of(session)}


def session_identity(session: SessionEntry) -> dict[str, Any]:
    return {"week": session.week, "label": session.label, "label_folded": fold(session.label)}


def exercise_values(row: ExerciseEntry, shelf: Shelf) -> dict[str, Any]:
    exercise = shelf[row.exercise]
    counts = row.targets.counts
    return {
        "exercise": exercise,
        "slot": row.slot or exercise.slot,
        "implement": row.implement,
        "implements_used": row.count,
        "is_each_side": row.targets.is_each_side,
        "sets": row.sets,
        "reps": counts[0],
        "set_targets": list(counts) if len(counts) > 1 else None,
        "measure": row.targets.measure or Measure.REPS.value,
        "load_kind": row.load.kind,
        "load_entered": row.load.entered,
        "load_unit": row.load.unit,
        "load_g": row.load.grams,
        "band": row.load.band,
        "rest_s": row.rest_s,
        "changed": row.changed,
    }
