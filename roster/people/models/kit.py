from __future__ import annotations

from typing import ClassVar

from django.db import models
from django.db.models import Q

from roster.mass import MassUnit
from roster.people.models.client import Client
from roster.people.visibility import VisibleThroughClient


class KitItem(models.Model):
    """One kind of implement that a client has at one place, with the loads it can be made to weigh."""

    class Place(models.TextChoices):
        HOME = "home", "home"
        GYM = "gym", "gym"
        AWAY = "away", "away"

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="kit")
    place = models.CharField(max_length=8, choices=Place, default=Place.HOME)
    implement = models.CharField(max_length=60)
    # As the coach wrote it, such as "2-20/2" or "8, 12, 16", in `unit`.
    loads_entered = models.CharField(max_length=200)
    unit = models.CharField(max_length=2, choices=MassUnit, default=MassUnit.KILOGRAM)
    # Ascending whole grams.
    loads_g = models.JSONField(default=list)
    # One is there, or a pair of each.
    is_pair = models.BooleanField(default=True)

    objects = VisibleThroughClient.as_manager()

    class Meta:
        ordering: ClassVar = ["place", "pk"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["client", "place", "implement"], name="one_kit_item_of_an_implement_at_a_place"
            ),
            models.CheckConstraint(condition=~Q(implement=""), name="kit_item_names_its_implement"),
        ]

    def __str__(self) -> str:
        return f"{self.implement}: {self.loads_entered} {self.unit}"
