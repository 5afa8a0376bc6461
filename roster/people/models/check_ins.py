"""Check-in calls: what was asked before one, and what came of it. A coach's words are added, never changed."""

from __future__ import annotations

from typing import ClassVar, Self

from django.db import models
from django.db.models import F, Q

from roster.people.models.client import Client
from roster.people.models.studio import Coach
from roster.people.models.words import Promise
from roster.people.visibility import VisibleThroughClient


class CheckInQuerySet(VisibleThroughClient):
    def held(self) -> Self:
        return self.filter(held_on__isnull=False)

    def to_be_held(self) -> Self:
        return self.filter(held_on__isnull=True)


class CheckIn(models.Model):
    """A call with a client: one that was held, or the one to come if something is noted for it already."""

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="check_ins")
    # The day it was due, as that stood when it was held. When the call to come is due follows from the client.
    due_on = models.DateField(null=True, blank=True)
    held_on = models.DateField(null=True, blank=True)
    held_by = models.ForeignKey(
        Coach, on_delete=models.SET_NULL, null=True, blank=True, related_name="check_ins_held"
    )
    outcome = models.TextField(blank=True)
    promise = models.ForeignKey(Promise, on_delete=models.SET_NULL, null=True, blank=True, related_name="check_ins")
    # The day that was agreed on for the next one; empty for the usual rhythm.
    next_on = models.DateField(null=True, blank=True)
    opened_at = models.DateTimeField(auto_now_add=True)

    objects = CheckInQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["held_on", "pk"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["client"], condition=Q(held_on__isnull=True), name="one_check_in_to_come_of_a_client"
            ),
            models.UniqueConstraint(fields=["client", "held_on"], name="one_check_in_of_a_client_on_a_day"),
            models.CheckConstraint(
                condition=Q(held_on__isnull=True, due_on__isnull=True)
                | Q(held_on__isnull=False, due_on__isnull=False),
                name="check_in_keeps_its_due_day_once_held",
            ),
            models.CheckConstraint(
                condition=Q(held_on__isnull=False) | (Q(outcome="") & Q(promise=None) & Q(next_on=None)),
                name="check_in_to_come_has_no_outcome",
            ),
            models.CheckConstraint(
                condition=Q(next_on__isnull=True) | Q(next_on__gt=F("held_on")),
                name="next_check_in_comes_after_this_one",
            ),
        ]

    def __str__(self) -> str:
        return f"check-in on {self.held_on}" if self.held_on else "check-in to come"


class CheckInAnswer(models.Model):
    """What a client said to one of the three questions, as the coach noted it; the latest of a question stands."""

    class Question(models.TextChoices):
        WELL = "well", "What went well?"
        IN_THE_WAY = "in_the_way", "What got in the way?"
        CHANGE = "change", "What should change?"

    check_in = models.ForeignKey(CheckIn, on_delete=models.CASCADE, related_name="answers")
    question = models.CharField(max_length=10, choices=Question)
    # Empty takes back what was noted before.
    text = models.TextField(blank=True)
    noted_by = models.ForeignKey(Coach, on_delete=models.SET_NULL, null=True, related_name="answers_noted")
    noted_at = models.DateTimeField(auto_now_add=True)

    class OfCheckIn(VisibleThroughClient):
        client_path = "check_in__client"

    objects = OfCheckIn.as_manager()

    class Meta:
        ordering: ClassVar = ["pk"]

    def __str__(self) -> str:
        return f"{self.get_question_display()} {self.text[:60]}"
