"""Facts computed from the record; they can be thrown away and computed again."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from roster.blocks.models import Exercise, PlannedExercise, PlannedSession
from roster.logs.models import SessionLog
from roster.people.models import Client
from roster.people.visibility import VisibleThroughClient


class Status(models.TextChoices):
    """What became of a planned session, as at a day."""

    DONE = "done", "done"
    PARTIAL = "partial", "partial"
    TOLD = "told", "told"
    MISSED = "missed", "missed"
    OVERDUE = "overdue", "overdue"
    AWAITED = "awaited", "awaited"
    NOT_DUE = "not_due", "not due"
    TO_COME = "to_come", "to come"


class ClientState(models.Model):
    """As at which day a client's facts and flags stand, with what a row of a list shows of them."""

    client = models.OneToOneField(Client, on_delete=models.CASCADE, primary_key=True, related_name="state_of_facts")
    as_of = models.DateField()
    computed_at = models.DateTimeField(auto_now=True)
    last_log_on = models.DateField(null=True)
    attended_4_weeks = models.PositiveSmallIntegerField(default=0)
    due_4_weeks = models.PositiveSmallIntegerField(default=0)
    attended_12_weeks = models.PositiveSmallIntegerField(default=0)
    due_12_weeks = models.PositiveSmallIntegerField(default=0)
    # When the check-in call to come is due; empty for who is not active, and where the studio has no check-in calls.
    check_in_due_on = models.DateField(null=True)

    objects = VisibleThroughClient.as_manager()

    def __str__(self) -> str:
        return f"{self.client_id} as at {self.as_of}"


class SessionFact(models.Model):
    """What became of one planned session."""

    planned_session = models.OneToOneField(
        PlannedSession, on_delete=models.CASCADE, primary_key=True, related_name="fact"
    )
    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="session_facts")
    # The Monday of the session's ISO week.
    week_start = models.DateField()
    status = models.CharField(max_length=8, choices=Status)
    set_completion = models.FloatField(null=True)
    done_later = models.BooleanField(null=True)
    session_log = models.ForeignKey(SessionLog, on_delete=models.SET_NULL, null=True, related_name="+")
    performed_on = models.DateField(null=True)
    # Working sets that count towards the plan, and planned ones.
    counted_sets = models.PositiveSmallIntegerField(default=0)
    planned_sets = models.PositiveSmallIntegerField(default=0)
    planned_tonnage_g = models.BigIntegerField(default=0)
    planned_minutes = models.FloatField(null=True)

    objects = VisibleThroughClient.as_manager()

    class Meta:
        indexes: ClassVar = [models.Index(fields=["client", "week_start"], name="session_fact_by_client_week")]

    def __str__(self) -> str:
        return f"{self.planned_session_id}: {self.status}"


class LogFact(models.Model):
    """Which planned session a log belongs to, and what was moved in it."""

    class Standing(models.TextChoices):
        FIRST = "first", "the session's log"
        SECOND = "second", "a second log of the session"
        EXTRA = "extra", "an extra session"

    session_log = models.OneToOneField(SessionLog, on_delete=models.CASCADE, primary_key=True, related_name="fact")
    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="log_facts")
    performed_on = models.DateField()
    planned_session = models.ForeignKey(PlannedSession, on_delete=models.CASCADE, null=True, related_name="+")
    standing = models.CharField(max_length=6, choices=Standing)
    working_sets = models.PositiveSmallIntegerField(default=0)
    # Null without details.
    tonnage_g = models.BigIntegerField(null=True)

    objects = VisibleThroughClient.as_manager()

    class Meta:
        indexes: ClassVar = [models.Index(fields=["client", "performed_on"], name="log_fact_by_client_and_day")]

    def __str__(self) -> str:
        return f"{self.session_log_id}: {self.standing}"


class WeekFact(models.Model):
    """The figures of one client in one ISO week; null is unknown, never zero."""

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="week_facts")
    week_start = models.DateField(help_text="the Monday")
    due = models.PositiveSmallIntegerField()
    done = models.PositiveSmallIntegerField()
    partial = models.PositiveSmallIntegerField()
    told = models.PositiveSmallIntegerField()
    missed = models.PositiveSmallIntegerField()
    overdue = models.PositiveSmallIntegerField()
    awaited = models.PositiveSmallIntegerField()
    not_due = models.PositiveSmallIntegerField()
    turnout = models.FloatField(null=True)
    completion = models.FloatField(null=True)
    tonnage_kg = models.FloatField(null=True)
    body_mass_tonnage_kg = models.FloatField(null=True)
    dose = models.FloatField(null=True)
    dose_uncapped = models.FloatField(null=True)
    minutes = models.FloatField(null=True)
    density_kg_min = models.FloatField(null=True)
    session_load = models.FloatField(null=True)
    # The sums behind the ratios, so that a level over weeks is a ratio of sums.
    counted_sets = models.PositiveIntegerField(default=0)
    planned_sets = models.PositiveIntegerField(default=0)
    planned_tonnage_g = models.BigIntegerField(default=0)
    dosed_tonnage_g = models.BigIntegerField(default=0)
    # Over the week's sessions that have details and minutes: lifted and asked, with their minutes.
    timed_tonnage_g = models.BigIntegerField(default=0)
    timed_minutes = models.FloatField(default=0)
    timed_planned_tonnage_g = models.BigIntegerField(default=0)
    timed_planned_minutes = models.FloatField(default=0)

    objects = VisibleThroughClient.as_manager()

    class Meta:
        ordering: ClassVar = ["client", "week_start"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["client", "week_start"], name="one_week_fact_of_a_client_and_week"),
        ]

    def __str__(self) -> str:
        return f"{self.client_id} in the week of {self.week_start}"


class ExposureFact(models.Model):
    """One time a client met a planned exercise, and whether what was asked was met."""

    class Reason(models.TextChoices):
        NONE = "", "met"
        NOT_LOGGED = "not_logged", "not logged"
        LOAD_BELOW = "load_below", "lighter than asked"
        SETS_SHORT = "sets_short", "fewer sets than asked"
        OTHER_LOAD = "other_load", "heavier than asked"
        REPS_SHORT = "reps_short", "fewer reps than asked"
        REST_OVER = "rest_over", "met, with longer rest"

    planned_exercise = models.OneToOneField(
        PlannedExercise, on_delete=models.CASCADE, primary_key=True, related_name="fact"
    )
    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="exposure_facts")
    exercise = models.ForeignKey(Exercise, on_delete=models.CASCADE, related_name="+")
    session_log = models.ForeignKey(SessionLog, on_delete=models.CASCADE, related_name="+")
    performed_on = models.DateField()
    # The order in which a client met their exercises, from 0.
    ordinal = models.PositiveIntegerField()
    working_sets = models.PositiveSmallIntegerField()
    sets_met = models.PositiveSmallIntegerField()
    met = models.BooleanField()
    reason = models.CharField(max_length=10, choices=Reason, blank=True)
    # The reps of the working sets, in order, and their heaviest load.
    reps_done = models.CharField(max_length=80, blank=True)
    top_load_g = models.IntegerField(null=True)
    best_e1rm_kg = models.FloatField(null=True)
    tonnage_g = models.BigIntegerField()
    # Which landing of the exercise this belongs to, from 0; null when it is left out of landings.
    landing = models.PositiveSmallIntegerField(null=True)

    objects = VisibleThroughClient.as_manager()

    class Meta:
        ordering: ClassVar = ["client", "ordinal"]
        indexes: ClassVar = [models.Index(fields=["client", "ordinal"], name="exposure_fact_by_client_order")]

    def __str__(self) -> str:
        return f"{self.planned_exercise_id}: {self.sets_met} met"
