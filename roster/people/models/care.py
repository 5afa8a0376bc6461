from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from django.db import models
from django.db.models import F, Q

from roster.people.models.client import Client
from roster.people.models.studio import Coach
from roster.people.visibility import VisibleThroughClient


class Limitation(models.Model):
    """A region or a movement that a client spares, or treats with care, for a while or until further word."""

    class Degree(models.TextChoices):
        SPARE = "spare", "spare"
        CAREFUL = "careful", "careful"

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="limitations")
    what = models.CharField(max_length=80, help_text="a region or a movement")
    degree = models.CharField(max_length=8, choices=Degree, default=Degree.CAREFUL)
    from_on = models.DateField()
    until_on = models.DateField(null=True, blank=True)
    note = models.TextField(blank=True)

    objects = VisibleThroughClient.as_manager()

    class Meta:
        ordering: ClassVar = ["from_on", "pk"]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(until_on__isnull=True) | Q(until_on__gte=F("from_on")),
                name="limitation_ends_on_or_after_its_first_day",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.what}: {self.degree}"


class HealthAnswers(models.Model):
    """That the health questions were asked on a day, whether one was answered yes, and the licensed word on it."""

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="health_answers")
    asked_on = models.DateField()
    questions_version = models.CharField(max_length=20)
    has_yes = models.BooleanField()
    # Who, with a licence to say so, cleared what the yes was about, and when.
    cleared_by = models.CharField(max_length=120, blank=True)
    cleared_on = models.DateField(null=True, blank=True)

    objects = VisibleThroughClient.as_manager()

    class Meta:
        ordering: ClassVar = ["asked_on", "pk"]
        verbose_name_plural = "health answers"

    def __str__(self) -> str:
        return f"health questions of {self.asked_on}"


class Consent(models.Model):
    """What a client agreed to, in which version, from which day, and until when."""

    class Source(models.TextChoices):
        CLIENT = "client", "given by the client"
        COACH = "coach", "attested by the coach"

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="consents")
    purpose = models.CharField(max_length=60)
    version = models.CharField(max_length=20)
    given_on = models.DateField()
    source = models.CharField(max_length=6, choices=Source)
    withdrawn_on = models.DateField(null=True, blank=True)

    objects = VisibleThroughClient.as_manager()

    class Meta:
        ordering: ClassVar = ["given_on", "pk"]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(withdrawn_on__isnull=True) | Q(withdrawn_on__gte=F("given_on")),
                name="consent_is_withdrawn_on_or_after_it_was_given",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.purpose} {self.version}"


class Guardian(models.Model):
    """The grown-up who agrees, and gets copies, for a client under eighteen."""

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="guardians")
    name = models.CharField(max_length=120)
    email = models.EmailField()
    agreed_on = models.DateField(null=True, blank=True)

    objects = VisibleThroughClient.as_manager()

    def __str__(self) -> str:
        return self.name


class ViewRecordQuerySet(VisibleThroughClient):
    def add_looks(self, coach: Coach, clients: Iterable[Client], page: str) -> None:
        """Whose lead they are, a coach looks at without a record."""
        # A list: where there is none to make, an empty one opens no transaction, and a lock keeps nobody from reading.
        self.bulk_create(
            [self.model(client=client, coach=coach, page=page) for client in clients if client.lead_id != coach.pk]
        )


class ViewRecord(models.Model):
    """Somebody other than the lead coach opened a page that shows a client's health data."""

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="views")
    coach = models.ForeignKey(Coach, on_delete=models.CASCADE, related_name="views_made")
    page = models.CharField(max_length=40)
    seen_at = models.DateTimeField(auto_now_add=True)

    objects = ViewRecordQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["-seen_at", "-pk"]

    def __str__(self) -> str:
        return f"{self.page} of {self.client} by {self.coach}"
