from __future__ import annotations

from datetime import date
from typing import ClassVar, Self

from django.db import models
from django.db.models import F, Q

from roster.people.models.client import Client
from roster.people.visibility import VisibleThroughClient


class PauseQuerySet(VisibleThroughClient):
    def standing(self) -> Self:
        return self.filter(withdrawn_at__isnull=True)

    def covering(self, day: date) -> Self:
        return self.standing().filter(from_on__lte=day, until_on__gte=day)


class Pause(models.Model):
    """Days, first and last included, on which nothing is due; pauses may overlap."""

    class Reason(models.TextChoices):
        AWAY = "away", "away"
        ILL = "ill", "ill"
        LIFE = "life", "life"

    class By(models.TextChoices):
        COACH = "coach", "coach"
        CLIENT = "client", "client"

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="pauses")
    from_on = models.DateField()
    until_on = models.DateField()
    reason = models.CharField(max_length=4, choices=Reason, default=Reason.LIFE)
    entered_by = models.CharField(max_length=6, choices=By, default=By.COACH)
    entered_at = models.DateTimeField(auto_now_add=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    objects = PauseQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["from_on", "pk"]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(until_on__gte=F("from_on")), name="pause_ends_on_or_after_its_first_day"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.from_on} to {self.until_on} ({self.reason})"
