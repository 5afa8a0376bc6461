from __future__ import annotations

import uuid
from datetime import date
from typing import ClassVar, Self

from django.db import models
from django.db.models import F, Q

from coaching.check_ins.content import Pack
from coaching.check_ins.edits import Edits, edited, edits_of
from coaching.check_ins.snapshots import pack_of
from roster.people.models import Client, Coach
from roster.people.visibility import VisibleThroughClient


class PackVersionQuerySet(VisibleThroughClient):
    def of(self, client: Client, first: date, last: date) -> Self:
        """Of one client and period, the newest first."""
        return self.filter(client=client, first=first, last=last).order_by("-number")

    def light(self) -> Self:
        """Without what is long, for lists."""
        return self.defer("content", "edits")


class PackVersion(models.Model):
    """A check-in pack as it was kept: what was composed, what the coach changed on it, and whether it was given."""

    class How(models.TextChoices):
        SENT = "sent", "sent"
        HANDED_OVER = "handed", "handed over"
        READ_OUT = "read", "gone through on a call"

    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="pack_versions")
    first = models.DateField()
    last = models.DateField()
    title = models.CharField(max_length=120)
    # From 1, within client and period.
    number = models.PositiveIntegerField()
    made_by = models.ForeignKey(Coach, on_delete=models.SET_NULL, null=True, related_name="packs_made")
    made_at = models.DateTimeField()
    # As it was composed, by `snapshots`; and what was changed on it, by `edits`.
    content = models.JSONField()
    edits = models.JSONField()
    given_on = models.DateField(null=True, blank=True)
    given_how = models.CharField(max_length=6, choices=How, blank=True)
    # Whom, where it was not the client.
    given_to = models.CharField(max_length=120, blank=True)
    given_by = models.ForeignKey(Coach, on_delete=models.SET_NULL, null=True, blank=True, related_name="packs_given")

    objects = PackVersionQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["client", "-last", "-first", "-number"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["client", "first", "last", "number"], name="one_pack_of_a_number_in_a_period"
            ),
            models.CheckConstraint(condition=Q(first__lte=F("last")), name="pack_period_has_days"),
            models.CheckConstraint(condition=Q(number__gte=1), name="pack_numbers_begin_at_one"),
            models.CheckConstraint(
                condition=Q(given_on__isnull=True, given_how="") | (Q(given_on__isnull=False) & ~Q(given_how="")),
                name="pack_was_given_on_a_day_and_somehow_or_not",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.title}, version {self.number}"

    @property
    def given_word(self) -> str:
        return str(self.get_given_how_display()) if self.given_how else "not given"

    @property
    def composed(self) -> Pack:
        """Before the coach changed anything."""
        return pack_of(self.content)

    @property
    def changes(self) -> Edits:
        return edits_of(self.edits)

    @property
    def pack(self) -> Pack:
        return edited(self.composed, self.changes)
