from __future__ import annotations

import uuid
from typing import ClassVar, Self

from django.db import models
from django.db.models import Q

from roster.people.models import Coach, Studio


class Slot(models.TextChoices):
    UPPER = "upper", "upper body"
    LOWER = "lower", "lower body"
    FULL = "full", "full body"
    EXTRA = "extra", "extra"


class Measure(models.TextChoices):
    """What a set counts."""

    REPS = "reps", "reps"
    SECONDS = "s", "seconds"
    METRES = "m", "metres"


class Changed(models.TextChoices):
    """The one variable that a week of a block makes harder than the week before."""

    NONE = "none", "nothing"
    SETS = "sets", "sets"
    REPS = "reps", "reps"
    REST = "rest", "rest"
    LOAD = "load", "load"
    DELOAD = "deload", "deload"


class ExerciseQuerySet(models.QuerySet["Exercise"]):
    def visible_to(self, coach: Coach) -> Self:
        if not coach.is_authenticated or not coach.is_active or coach.studio_id is None:
            return self.none()
        return self.filter(studio_id=coach.studio_id)


class Exercise(models.Model):
    """A movement as a studio knows it."""

    class Pattern(models.TextChoices):
        SQUAT = "squat", "squat"
        HINGE = "hinge", "hinge"
        LUNGE = "lunge", "lunge"
        PUSH = "push", "push"
        PULL = "pull", "pull"
        CARRY = "carry", "carry"
        ROTATE = "rotate", "rotate"
        THROW = "throw", "throw"
        BRACE = "brace", "brace"

    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    studio = models.ForeignKey(Studio, on_delete=models.CASCADE, related_name="exercises")
    name = models.CharField(max_length=120)
    # `name` in the form in which names are compared.
    name_folded = models.CharField(max_length=240, editable=False)
    slot = models.CharField(max_length=5, choices=Slot, default=Slot.EXTRA)
    pattern = models.CharField(max_length=8, choices=Pattern, blank=True)
    implement = models.CharField(max_length=60, blank=True)
    implements_used = models.PositiveSmallIntegerField(default=1, help_text="one, or two held at once")
    is_each_side = models.BooleanField(default=False)
    measure = models.CharField(max_length=4, choices=Measure, default=Measure.REPS)
    # Regions of the body that the exercise loads, as words.
    regions = models.JSONField(default=list, blank=True)
    level = models.PositiveSmallIntegerField(default=1)
    cues = models.JSONField(default=list, blank=True)
    cautions = models.TextField(blank=True)
    easier = models.ForeignKey("self", on_delete=models.SET_NULL, null=True, blank=True, related_name="harder_ones")
    harder = models.ForeignKey("self", on_delete=models.SET_NULL, null=True, blank=True, related_name="easier_ones")
    demo_link = models.URLField(blank=True)
    # Share of body mass that is moved, where a paper gives one; `body_mass_source` names it.
    body_mass_share = models.DecimalField(max_digits=4, decimal_places=3, null=True, blank=True)
    body_mass_source = models.CharField(max_length=200, blank=True)

    objects = ExerciseQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["name", "pk"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["studio", "name_folded"], name="one_exercise_of_a_name_in_a_studio"),
            models.CheckConstraint(condition=~Q(name_folded=""), name="exercise_has_a_name"),
            models.CheckConstraint(condition=Q(implements_used__in=[1, 2]), name="exercise_uses_one_or_two_implements"),
        ]

    def __str__(self) -> str:
        return self.name


class Progression(models.Model):
    """An ordered list of stages that a round goes through before the load steps up."""

    studio = models.ForeignKey(Studio, on_delete=models.CASCADE, related_name="progressions")
    name = models.CharField(max_length=120)

    objects = ExerciseQuerySet.as_manager()

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["studio", "name"], name="one_progression_of_a_name_in_a_studio"),
        ]

    def __str__(self) -> str:
        return self.name


class Stage(models.Model):
    """One week's rule in a progression: sets, reps and rest, and which of them changed."""

    progression = models.ForeignKey(Progression, on_delete=models.CASCADE, related_name="stages")
    position = models.PositiveSmallIntegerField()
    sets = models.PositiveSmallIntegerField()
    reps = models.PositiveSmallIntegerField()
    rest_s = models.PositiveSmallIntegerField()
    changed = models.CharField(max_length=6, choices=Changed, default=Changed.NONE)

    class Meta:
        ordering: ClassVar = ["progression", "position"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["progression", "position"], name="one_stage_at_a_position"),
            models.CheckConstraint(condition=Q(sets__gte=1), name="stage_has_sets"),
            models.CheckConstraint(condition=Q(reps__gte=1), name="stage_has_reps"),
        ]

    def __str__(self) -> str:
        return f"{self.sets} x {self.reps}, {self.rest_s} s"
