from roster.blocks.models.blocks import Block, PlannedExercise, PlannedSession
from roster.blocks.models.exercises import Changed, Exercise, Measure, Progression, Slot, Stage

__all__ = [
    "Block",
    "Changed",
    "Exercise",
    "Measure",
    "PlannedExercise",
    "PlannedSession",
    "Progression",
    "Slot",
    "Stage",
]
