from __future__ import annotations

import uuid
from collections.abc import Iterable
from datetime import date, datetime
from typing import ClassVar, Self

from django.db import models
from django.db.models import Q

from roster.labels import as_looked_for
from roster.mass import MassUnit
from roster.people.models.studio import Coach, Studio
from roster.people.zones import local_date, validate_time_zone


class ClientQuerySet(models.QuerySet["Client"]):
    def visible_to(self, coach: Coach) -> Self:
        """An owner sees the whole studio, a coach who they lead, cover or share, an assistant who is assigned."""
        if not coach.is_authenticated or not coach.is_active or coach.studio_id is None:
            return self.none()
        of_studio = self.filter(studio_id=coach.studio_id)
        if coach.role == Coach.Role.OWNER:
            return of_studio
        shared = Client.shared_with.through.objects.filter(coach_id=coach.pk).values("client_id")
        if coach.role == Coach.Role.ASSISTANT:
            return of_studio.filter(pk__in=shared)
        return of_studio.filter(Q(lead=coach) | Q(covering=coach) | Q(pk__in=shared))

    def changeable_by(self, coach: Coach) -> Self:
        """An assistant reads; everybody else may change whom they see."""
        if getattr(coach, "role", None) == Coach.Role.ASSISTANT:
            return self.none()
        return self.visible_to(coach)

    def active(self) -> Self:
        return self.filter(state=Client.State.ACTIVE)

    def not_ended(self) -> Self:
        return self.exclude(state=Client.State.ENDED)

    def matching(self, words: str) -> Self:
        """Clients whose name, key or e-mail holds every word."""
        wanted = [as_looked_for(word) for word in words.split()]
        if not wanted:
            return self
        rows = self.order_by().values_list("pk", "name", "key", "email")
        return self.filter(pk__in=[pk for pk, *texts in rows if _hold(texts, wanted)])


def _hold(texts: Iterable[str], words: Iterable[str]) -> bool:
    known = [as_looked_for(text) for text in texts]
    return all(any(word in text for text in known) for word in words)


class Client(models.Model):
    """A person who is coached: how to reach them, what they want, how they train and send their logs."""

    class State(models.TextChoices):
        ACTIVE = "active", "active"
        PAUSED = "paused", "paused"
        ENDED = "ended", "ended"

    class Sends(models.TextChoices):
        EACH = "each", "each session"
        WEEKLY = "weekly", "once a week"
        BLOCK = "block", "at the end of a block"

    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    studio = models.ForeignKey(Studio, on_delete=models.CASCADE, related_name="clients")
    key = models.CharField(max_length=80, help_text="the studio's own key for this person")
    # `key` in the form in which keys are compared.
    key_folded = models.CharField(max_length=160, editable=False)
    name = models.CharField(max_length=120)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    time_zone = models.CharField(max_length=64, default="UTC", validators=[validate_time_zone])
    unit = models.CharField(max_length=2, choices=MassUnit, default=MassUnit.KILOGRAM)
    joined_on = models.DateField()
    state = models.CharField(max_length=8, choices=State, default=State.ACTIVE)
    ended_on = models.DateField(null=True, blank=True)
    ended_reason = models.CharField(max_length=200, blank=True)
    usual_days = models.CharField(max_length=40, blank=True, help_text="such as mon wed fri")
    sends = models.CharField(max_length=8, choices=Sends, default=Sends.EACH)
    minutes = models.PositiveSmallIntegerField(null=True, blank=True, help_text="that a session may take")
    goal = models.TextField(blank=True, help_text="in their own words")
    goal_by = models.DateField(null=True, blank=True)
    goal_noticed_by = models.TextField(blank=True, help_text="how we will notice")
    # Set by hand; empty, the next check-in call is due in the studio's rhythm, counted from `joined_on`.
    next_call_on = models.DateField(null=True, blank=True)
    lead = models.ForeignKey(Coach, on_delete=models.RESTRICT, related_name="led_clients")
    covering = models.ForeignKey(
        Coach, on_delete=models.SET_NULL, null=True, blank=True, related_name="covered_clients"
    )
    shared_with = models.ManyToManyField(Coach, blank=True, related_name="shared_clients")
    created_at = models.DateTimeField(auto_now_add=True)
    # Rises with every change: an edit that started from an older one is refused.
    version = models.PositiveIntegerField(default=1, editable=False)

    objects = ClientQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["name", "pk"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["studio", "key_folded"], name="one_client_of_a_key_in_a_studio"),
            models.CheckConstraint(condition=~Q(key_folded=""), name="client_has_a_key"),
            models.CheckConstraint(
                condition=Q(state="ended", ended_on__isnull=False) | (~Q(state="ended") & Q(ended_on__isnull=True)),
                name="client_ended_on_a_day_if_ended",
            ),
            models.CheckConstraint(condition=Q(minutes__isnull=True) | Q(minutes__gt=0), name="client_has_minutes"),
        ]

    def __str__(self) -> str:
        return self.name

    def today(self, now: datetime) -> date:
        """The client's own calendar day at `now`."""
        return local_date(now, self.time_zone)
