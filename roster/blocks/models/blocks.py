from __future__ import annotations

import uuid
from datetime import date, timedelta
from typing import ClassVar, Self

from django.db import models
from django.db.models import Q

from roster.blocks.models.exercises import Changed, Exercise, Measure, Progression, Slot
from roster.mass import LoadKind, MassUnit
from roster.people.models import Client
from roster.people.visibility import VisibleThroughClient


class BlockQuerySet(VisibleThroughClient):
    def published(self) -> Self:
        return self.filter(published_at__isnull=False)


class Block(models.Model):
    """A few weeks prescribed to one client; once published it is changed only where nothing is due yet."""

    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="blocks")
    label = models.CharField(max_length=80)
    # `label` in the form in which labels are compared.
    label_folded = models.CharField(max_length=160, editable=False)
    starts_on = models.DateField(help_text="a Monday")
    weeks = models.PositiveSmallIntegerField()
    progression = models.ForeignKey(
        Progression, on_delete=models.SET_NULL, null=True, blank=True, related_name="blocks"
    )
    published_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    objects = BlockQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["starts_on", "pk"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["client", "label_folded"], name="one_block_of_a_label_for_a_client"),
            models.CheckConstraint(condition=Q(weeks__gte=1), name="block_has_weeks"),
            # Django counts Sunday as 1, so a Monday is 2.
            models.CheckConstraint(condition=Q(starts_on__week_day=2), name="block_starts_on_a_monday"),
        ]

    def __str__(self) -> str:
        return self.label

    @property
    def ends_on(self) -> date:
        """The block's last Sunday."""
        return self.starts_on + timedelta(days=7 * self.weeks - 1)


class PlannedSessionQuerySet(VisibleThroughClient):
    client_path = "block__client"


class PlannedSession(models.Model):
    """A session that a published block asks for in one of its weeks, with the day suggested for it."""

    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    block = models.ForeignKey(Block, on_delete=models.CASCADE, related_name="sessions")
    week = models.PositiveSmallIntegerField(help_text="of the block, from 1")
    # May be empty: then the day tells sessions apart.
    label = models.CharField(max_length=80, blank=True)
    # `label` in the form in which labels are compared.
    label_folded = models.CharField(max_length=160, blank=True, editable=False)
    suggested_on = models.DateField()

    objects = PlannedSessionQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["suggested_on", "pk"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["block", "week", "label_folded"],
                condition=~Q(label_folded=""),
                name="one_planned_session_of_a_label_in_a_week",
            ),
            models.UniqueConstraint(
                fields=["block", "week", "suggested_on"],
                condition=Q(label_folded=""),
                name="one_planned_session_without_label_on_a_day",
            ),
            models.CheckConstraint(condition=Q(week__gte=1), name="planned_session_week_counts_from_one"),
        ]

    def __str__(self) -> str:
        return f"{self.label or self.suggested_on} · week {self.week}"


class PlannedExercise(models.Model):
    """What one session asks of one exercise."""

    session = models.ForeignKey(PlannedSession, on_delete=models.CASCADE, related_name="exercises")
    position = models.PositiveSmallIntegerField(help_text="in the session, from 1")
    exercise = models.ForeignKey(Exercise, on_delete=models.RESTRICT, related_name="planned")
    slot = models.CharField(max_length=5, choices=Slot)
    implement = models.CharField(max_length=60, blank=True)
    implements_used = models.PositiveSmallIntegerField(default=1)
    is_each_side = models.BooleanField(default=False)
    sets = models.PositiveSmallIntegerField()
    # The target of every set; of the first one where `set_targets` gives each its own.
    reps = models.PositiveSmallIntegerField()
    # One target a set, as in 12-10-8, or null.
    set_targets = models.JSONField(null=True, blank=True)
    measure = models.CharField(max_length=4, choices=Measure, default=Measure.REPS)
    load_kind = models.CharField(max_length=4, choices=LoadKind, default=LoadKind.BODY)
    load_entered = models.DecimalField(max_digits=9, decimal_places=4, null=True, blank=True)
    load_unit = models.CharField(max_length=2, choices=MassUnit, blank=True)
    load_g = models.PositiveIntegerField(null=True, blank=True)
    band = models.CharField(max_length=60, blank=True)
    rest_s = models.PositiveSmallIntegerField(null=True, blank=True)
    changed = models.CharField(max_length=6, choices=Changed, default=Changed.NONE)
    # Seconds a rep takes, where a tempo is asked for.
    tempo_s = models.PositiveSmallIntegerField(null=True, blank=True)
    effort = models.CharField(max_length=40, blank=True)

    class Meta:
        ordering: ClassVar = ["session", "position"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["session", "position"], name="one_planned_exercise_at_a_position"),
            models.CheckConstraint(condition=Q(reps__gte=1), name="planned_reps_are_at_least_one"),
            models.CheckConstraint(condition=Q(sets__gte=1), name="planned_sets_are_at_least_one"),
            models.CheckConstraint(condition=Q(implements_used__in=[1, 2]), name="planned_with_one_or_two_implements"),
            models.CheckConstraint(
                condition=Q(load_kind="mass", load_g__isnull=False, load_entered__isnull=False)
                | (~Q(load_kind="mass") & Q(load_g__isnull=True)),
                name="planned_load_has_grams_if_it_is_a_mass",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.exercise}: {self.sets} x {self.reps}"
