"""The invented studio's exercise record: what an exercise loads is what ties pain to it."""

from __future__ import annotations

from coaching.simulation.shelf import SHELF, Movement
from roster.blocks.models import Exercise, Measure
from roster.labels import fold
from roster.people.models import Studio


def stock_shelf(studio: Studio) -> None:
    """Adds what is missing; what the studio has is left as it is."""
    Exercise.objects.bulk_create(
        [_exercise(studio, movement) for movement in SHELF.values()],
        ignore_conflicts=True,
    )


def _exercise(studio: Studio, movement: Movement) -> Exercise:
    return Exercise(
        studio=studio,
        name=movement.name,
        name_folded=fold(movement.name),
        slot=movement.slot,
        pattern=movement.pattern,
        implement=movement.implement,
        implements_used=movement.count,
        is_each_side=movement.is_each_side,
        measure=movement.measure or Measure.REPS,
        regions=list(movement.regions),
    )
