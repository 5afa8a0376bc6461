"""Findings, which can be thrown away and computed again, and what happened to them, which can not."""

from __future__ import annotations

from datetime import date
from typing import ClassVar, Self

from django.db import models

from coaching.databases.letters import by_letters
from roster.blocks.models import Exercise
from roster.people.models import Client, Coach
from roster.people.visibility import VisibleThroughClient


class Kind(models.TextChoices):
    """What a finding is about, in the order in which the desk names them."""

    PAIN = "pain", "pain"
    TURNOUT = "turnout", "turnout"
    STALL = "stall", "stall"
    STEP_NOT_TAKEN = "step_not_taken", "step not taken"
    SKIPS_IT = "skips_it", "skips it"
    CUT_SHORT = "cut_short", "cut short"
    NO_STEP = "no_step", "no step"
    PLAN_RUNS_OUT = "plan_runs_out", "plan runs out"
    TOO_EASY = "too_easy", "too easy"
    READY = "ready", "ready"
    CHECK_IN_DUE = "check_in_due", "check-in due"


class Urgency(models.TextChoices):
    NOW = "now", "now"
    ACT = "act", "act"
    WATCH = "watch", "watch"
    GOOD = "good", "good"


class FlagQuerySet(VisibleThroughClient):
    def holding(self) -> Self:
        """Findings whose condition holds as at their client's facts."""
        return self.filter(holds=True)

    def standing(self) -> Self:
        """Those of them that no coach has closed; put aside ones too."""
        return self.holding().filter(closed_on__isnull=True)

    def by_subject(self, *first: str) -> Self:
        """In order of what they are about, within that of the columns named first."""
        return self.order_by(*first, by_letters("kind"), by_letters("subject"))


class Flag(models.Model):
    """One episode of one finding about one client, as at the client's facts."""

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="flags")
    kind = models.CharField(max_length=20, choices=Kind)
    # An exercise's name, a region, which turnout rule; empty where the kind needs none.
    subject = models.CharField(max_length=120, blank=True)
    exercise = models.ForeignKey(Exercise, on_delete=models.CASCADE, null=True, blank=True, related_name="+")
    urgency = models.CharField(max_length=5, choices=Urgency)
    # The first day from which the condition has held on every day since.
    opened_on = models.DateField()
    # False: an episode that is over, or, after going back to an earlier day, has not begun.
    holds = models.BooleanField(default=True)
    cleared_on = models.DateField(null=True, blank=True)
    sentence = models.CharField(max_length=400)
    # A second line of plain words; empty where one says enough.
    remark = models.CharField(max_length=400, blank=True)
    # {"columns": [...], "rows": [[...], ...]}: the rows that the finding came from, ready to show.
    evidence = models.JSONField(default=dict)
    rule = models.CharField(max_length=400)
    clears = models.CharField(max_length=400)
    # What a coach might do, in plain words.
    options = models.JSONField(default=list)
    # Where the coach has left it; taken from the events up to the day of the facts.
    seen_on = models.DateField(null=True, blank=True)
    put_aside_until = models.DateField(null=True, blank=True)
    closed_on = models.DateField(null=True, blank=True)

    objects = FlagQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["client", "kind", "subject", "opened_on"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["client", "kind", "subject", "opened_on"], name="one_flag_of_an_episode"),
        ]
        indexes: ClassVar = [models.Index(fields=["client", "holds"], name="flag_by_client_and_holds")]

    def __str__(self) -> str:
        return self.sentence

    def is_put_aside(self, day: date) -> bool:
        """Whether it stays out of sight on that day."""
        return self.put_aside_until is not None and self.put_aside_until > day


class FlagEvent(models.Model):
    """Something that happened to a finding: by itself or by a coach. Rows are added, never changed."""

    class What(models.TextChoices):
        OPENED = "opened", "opened"
        CHANGED = "changed", "changed urgency"
        CLEARED = "cleared", "cleared by itself"
        WITHDRAWN = "withdrawn", "withdrawn: a pause explains it"
        SEEN = "seen", "seen"
        PUT_ASIDE = "put_aside", "put aside"
        CLOSED = "closed", "closed"
        REOPENED = "reopened", "opened again: it became worse"

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="flag_events")
    kind = models.CharField(max_length=20, choices=Kind)
    subject = models.CharField(max_length=120, blank=True)
    what = models.CharField(max_length=10, choices=What)
    # The day it counts from, in the client's zone.
    on = models.DateField()
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(Coach, on_delete=models.SET_NULL, null=True, blank=True, related_name="flag_events")
    urgency = models.CharField(max_length=5, choices=Urgency)
    until = models.DateField(null=True, blank=True)
    note = models.TextField(blank=True)

    objects = VisibleThroughClient.as_manager()

    class Meta:
        ordering: ClassVar = ["on", "pk"]
        indexes: ClassVar = [models.Index(fields=["client", "kind", "subject"], name="flag_event_by_finding")]

    def __str__(self) -> str:
        return f"{self.kind} {self.subject} {self.what} on {self.on}"
