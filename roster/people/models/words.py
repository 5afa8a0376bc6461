from __future__ import annotations

from typing import ClassVar

from django.db import models

from roster.people.models.client import Client
from roster.people.models.studio import Coach
from roster.people.visibility import VisibleThroughClient


class Note(models.Model):
    """What a coach wrote down about a client, for coaches only."""

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="notes")
    written_by = models.ForeignKey(Coach, on_delete=models.SET_NULL, null=True, related_name="notes_written")
    text = models.TextField()
    written_at = models.DateTimeField(auto_now_add=True)

    objects = VisibleThroughClient.as_manager()

    class Meta:
        ordering: ClassVar = ["-written_at", "-pk"]

    def __str__(self) -> str:
        return self.text[:60]


class Contact(models.Model):
    """A word from the coach to the client: a call, a message, a meeting."""

    class How(models.TextChoices):
        CALL = "call", "call"
        MESSAGE = "message", "message"
        MET = "met", "met"

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="contacts")
    made_by = models.ForeignKey(Coach, on_delete=models.SET_NULL, null=True, related_name="contacts_made")
    how = models.CharField(max_length=8, choices=How)
    made_on = models.DateField()
    outcome = models.TextField(blank=True)

    objects = VisibleThroughClient.as_manager()

    class Meta:
        ordering: ClassVar = ["-made_on", "-pk"]
        indexes: ClassVar = [models.Index(fields=["client", "made_on"], name="contact_by_client_and_day")]

    def __str__(self) -> str:
        return f"{self.how} on {self.made_on}"


class Promise(models.Model):
    """What coach and client agreed on, by when, and whether it was kept."""

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="promises")
    text = models.CharField(max_length=300)
    made_on = models.DateField()
    due_on = models.DateField(null=True, blank=True)
    kept = models.BooleanField(null=True, blank=True)

    objects = VisibleThroughClient.as_manager()

    class Meta:
        ordering: ClassVar = ["-made_on", "-pk"]

    def __str__(self) -> str:
        return self.text
