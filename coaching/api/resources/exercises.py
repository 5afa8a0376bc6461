from __future__ import annotations

from typing import Any
from uuid import UUID

from django.db.models import QuerySet
from rest_framework.request import Request

from coaching.api.answering import OneOf, RecordList
from coaching.api.fields import RowOf, amount, choice, count, ident, text, texts, truth
from coaching.api.parameters import Filters, any_of, words_in
from coaching.monitoring.fact_pages import Wanted
from coaching.monitoring.fact_shapes import Row
from roster.blocks.models import Exercise, Measure, Slot


class ExerciseRow(RowOf):
    id = ident("The exercise's id.")
    exercise = text("Its name.")
    slot = choice(Slot.choices, "What it mostly trains.")
    pattern = text("Its movement: squat, hinge, lunge, push, pull, carry, rotate, throw or brace.", null=True)
    implement = text("What is lifted.", null=True)
    implements_used = count("One, or two held at once.")
    is_each_side = truth("Whether a set is done on each side.")
    measure = choice(Measure.choices, "What a set counts.")
    regions = texts("Regions of the body that it loads.")
    level = count("How hard it is to do well, from 1.")
    cues = texts("What to say.")
    cautions = text("What to mind.", null=True)
    easier_id = ident("Its easier neighbour.", null=True)
    harder_id = ident("Its harder neighbour.", null=True)
    demo_link = text("Where it is shown.", null=True)
    body_mass_share = amount("The share of body mass that is moved, where one is published.", null=True)
    body_mass_source = text("Where it is published.", null=True)


EXAMPLE: Row = {
    "id": "b39e0e0f-54b9-4c35-8b8e-0c3cf2f2a4d0", "exercise": "Goblet squat", "slot": "lower", "pattern": "squat",
    "implement": "dumbbell", "implements_used": 1, "is_each_side": False, "measure": "reps", "regions": ["knee", "hip"],
    "level": 1, "cues": ["elbows inside the knees"], "cautions": None, "easier_id": None, "harder_id": None,
    "demo_link": None, "body_mass_share": None, "body_mass_source": None,
}  # fmt: skip


class ExerciseFilters(Filters):
    of_clients = frozenset()
    slot = any_of("slot", Slot.choices, "What it mostly trains.")
    pattern = any_of("pattern", Exercise.Pattern.choices, "Its movement.")
    q = words_in("name_folded", "What its name holds.")


def exercise_row(one: Exercise) -> Row:
    same = (
        "slot", "pattern", "implement", "implements_used", "is_each_side", "measure", "regions", "level", "cues",
        "cautions", "demo_link", "body_mass_source",
    )
    return {
        "id": one.public_id, "exercise": one.name, **{name: getattr(one, name) for name in same},
        "easier_id": one.easier and one.easier.public_id, "harder_id": one.harder and one.harder.public_id,
        "body_mass_share": None if one.body_mass_share is None else float(one.body_mass_share),
    }


class Exercises(RecordList):
    name, summary = "exercises", "The studio's exercises."
    shape, example, filters = ExerciseRow, EXAMPLE, ExerciseFilters

    def queryset(self, wanted: Wanted) -> QuerySet[Exercise]:
        visible = Exercise.objects.visible_to(self.request.user).select_related("easier", "harder")
        return visible.filter(wanted.query)

    def rows(self, page: Any) -> list[Row]:
        return [exercise_row(one) for one in page]


class OneExercise(OneOf):
    name, summary = "exercises", "One exercise of the studio."
    shape, example, takes_as_of = ExerciseRow, EXAMPLE, False

    def find(self, request: Request, public_id: UUID) -> tuple[None, Row] | None:
        visible = Exercise.objects.visible_to(request.user).select_related("easier", "harder")
        one = visible.filter(public_id=public_id).first()
        return one and (None, exercise_row(one))
