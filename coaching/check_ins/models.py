from __future__ import annotations

import uuid
from datetime import date
from typing import ClassVar, Self

from django.db import models
from django.db.models import F, Q

from coaching.check_ins.content import Pack
from coaching.check_ins.edits import Edits, edited, edits_of
from coaching.check_ins.snapshots import pack_of
from roster.people.models import Client, Coach, Studio
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
    def person(self) -> Client:
        """Whom it is about, for whoever records who was shown what."""
        return self.client

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


class PackBatchQuerySet(models.QuerySet["PackBatch"]):
    def visible_to(self, coach: Coach) -> Self:
        """An owner sees every batch of the studio, a coach their own, as long as all clients in it are theirs."""
        if not may_make_batches(coach):
            return self.none()
        of_studio = self.filter(studio_id=coach.studio_id)
        if coach.role == Coach.Role.OWNER:
            return of_studio
        others = PackOfBatch.objects.exclude(client__in=Client.objects.visible_to(coach))
        return of_studio.filter(by=coach).exclude(pk__in=others.values("batch_id"))


class PackBatch(models.Model):
    """Packs of many clients that were asked for at once: one ZIP, made in the background, kept for a while."""

    class Size(models.TextChoices):
        A4 = "a4", "A4"
        LETTER = "letter", "Letter"

    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    studio = models.ForeignKey(Studio, on_delete=models.CASCADE, related_name="pack_batches")
    by = models.ForeignKey(Coach, on_delete=models.CASCADE, related_name="pack_batches")
    first = models.DateField()
    last = models.DateField()
    title = models.CharField(max_length=120)
    size = models.CharField(max_length=6, choices=Size, default=Size.A4)
    asked_at = models.DateTimeField()
    # Who is making it, and when they last gave a sign; another may go on once that is long ago.
    worker = models.UUIDField(null=True)
    alive_at = models.DateTimeField(null=True)
    finished_at = models.DateTimeField(null=True)

    objects = PackBatchQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["-asked_at", "-pk"]
        verbose_name_plural = "pack batches"
        constraints: ClassVar = [
            models.CheckConstraint(condition=Q(first__lte=F("last")), name="pack_batch_period_has_days"),
        ]

    def __str__(self) -> str:
        return self.title


class PackOfBatch(models.Model):
    """One client's pack within a batch, and what became of it."""

    class State(models.TextChoices):
        WAITING = "waiting", "waiting"
        MADE = "made", "made"
        NOTHING = "nothing", "nothing to tell"
        FAILED = "failed", "could not be made"

    batch = models.ForeignKey(PackBatch, on_delete=models.CASCADE, related_name="packs")
    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="+")
    state = models.CharField(max_length=7, choices=State, default=State.WAITING)
    # Where there is none, why.
    why = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering: ClassVar = ["pk"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["batch", "client"], name="one_pack_of_a_client_in_a_batch"),
        ]

    def __str__(self) -> str:
        return f"{self.client}: {self.state}"


def may_make_batches(coach: Coach) -> bool:
    """Owners and coaches; assistants read one by one, and support belongs to no studio."""
    is_in = coach.is_authenticated and coach.is_active and coach.studio_id is not None
    return is_in and coach.role != Coach.Role.ASSISTANT
