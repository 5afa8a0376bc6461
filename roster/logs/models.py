from __future__ import annotations

import uuid
from typing import ClassVar

from django.db import models
from django.db.models import Q

from roster.blocks.models import Exercise, Measure, PlannedSession
from roster.mass import LoadKind, MassUnit
from roster.people.models import Client
from roster.people.visibility import VisibleThroughClient


class Submission(models.Model):
    """What came in through a door, kept as it came; a correction is a further revision of the same UUID."""

    class Door(models.TextChoices):
        FILE = "file", "file"
        PHONE = "phone", "phone"
        API = "api", "API"
        COACH = "coach", "coach"

    class Verdict(models.TextChoices):
        ACCEPTED = "accepted", "accepted"
        REPLACED = "replaced", "replaced by a later revision"
        WITHDRAWN = "withdrawn", "withdrawn: its load was undone"

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="submissions")
    uuid = models.UUIDField()
    revision = models.PositiveSmallIntegerField(default=1)
    door = models.CharField(max_length=5, choices=Door)
    payload = models.JSONField()
    # SHA-256 of the payload in canonical form: equal content has an equal fingerprint.
    fingerprint = models.CharField(max_length=64)
    verdict = models.CharField(max_length=9, choices=Verdict, default=Verdict.ACCEPTED)
    received_at = models.DateTimeField(auto_now_add=True)

    objects = VisibleThroughClient.as_manager()

    class Meta:
        ordering: ClassVar = ["pk"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["client", "uuid", "revision"], name="one_submission_of_a_uuid_and_revision"
            ),
            models.CheckConstraint(condition=Q(revision__gte=1), name="submission_revisions_count_from_one"),
        ]

    def __str__(self) -> str:
        return f"{self.uuid} ({self.revision})"


class SessionLog(models.Model):
    """One session that a client says they did, on the local day they chose."""

    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="session_logs")
    # The newest revision; older ones stay beside it.
    submission = models.OneToOneField(Submission, on_delete=models.RESTRICT, related_name="session_log")
    # The planned session that the log itself named; a link that Muster found is a fact, not stored here.
    planned_session = models.ForeignKey(
        PlannedSession, on_delete=models.SET_NULL, null=True, blank=True, related_name="session_logs"
    )
    performed_on = models.DateField()
    performed_at = models.DateTimeField(null=True, blank=True)
    # False: "trained", and nothing more was told.
    has_details = models.BooleanField(default=True)
    minutes = models.DecimalField(max_digits=6, decimal_places=2, null=True, blank=True)
    # Session effort, 0 to 10.
    effort = models.DecimalField(max_digits=4, decimal_places=2, null=True, blank=True)
    # 0 to 10, during the session and on the next morning.
    pain = models.DecimalField(max_digits=4, decimal_places=2, null=True, blank=True)
    pain_region = models.CharField(max_length=80, blank=True)
    pain_next_morning = models.DecimalField(max_digits=4, decimal_places=2, null=True, blank=True)
    has_alarm_symptom = models.BooleanField(default=False)
    note = models.TextField(blank=True)

    objects = VisibleThroughClient.as_manager()

    class Meta:
        ordering: ClassVar = ["performed_on", "pk"]
        indexes: ClassVar = [models.Index(fields=["client", "performed_on"], name="session_log_by_client_and_day")]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(pain__isnull=True) | Q(pain__gte=0, pain__lte=10), name="pain_is_from_0_to_10"
            ),
            models.CheckConstraint(
                condition=Q(pain_next_morning__isnull=True) | Q(pain_next_morning__gte=0, pain_next_morning__lte=10),
                name="pain_next_morning_is_from_0_to_10",
            ),
            models.CheckConstraint(
                condition=Q(effort__isnull=True) | Q(effort__gte=0, effort__lte=10), name="effort_is_from_0_to_10"
            ),
            models.CheckConstraint(condition=Q(minutes__isnull=True) | Q(minutes__gt=0), name="minutes_are_positive"),
        ]

    def __str__(self) -> str:
        return f"{self.client} on {self.performed_on}"


class SetLogQuerySet(VisibleThroughClient):
    client_path = "session_log__client"


class SetLog(models.Model):
    """One set as it was logged."""

    class RepsLeft(models.TextChoices):
        """How many more could you have done?"""

        NONE_OR_ONE = "0-1", "0-1"
        TWO_OR_THREE = "2-3", "2-3"
        FOUR_OR_MORE = "4+", "4 or more"

    session_log = models.ForeignKey(SessionLog, on_delete=models.CASCADE, related_name="sets")
    # The exercise done, and the one asked for when it was swapped.
    exercise = models.ForeignKey(Exercise, on_delete=models.RESTRICT, related_name="set_logs")
    asked = models.ForeignKey(
        Exercise, on_delete=models.RESTRICT, null=True, blank=True, related_name="swapped_set_logs"
    )
    swap_reason = models.CharField(max_length=120, blank=True)
    # As filed, from 1, and the number that the client gave the set.
    position = models.PositiveSmallIntegerField()
    number = models.PositiveSmallIntegerField()
    reps = models.PositiveIntegerField(help_text="or seconds, or metres")
    measure = models.CharField(max_length=4, choices=Measure, default=Measure.REPS)
    load_kind = models.CharField(max_length=4, choices=LoadKind, default=LoadKind.BODY)
    load_entered = models.DecimalField(max_digits=9, decimal_places=4, null=True, blank=True)
    load_unit = models.CharField(max_length=2, choices=MassUnit, blank=True)
    load_g = models.PositiveIntegerField(null=True, blank=True)
    band = models.CharField(max_length=60, blank=True)
    rest_s = models.PositiveIntegerField(null=True, blank=True)
    is_warm_up = models.BooleanField(default=False)
    reps_left = models.CharField(max_length=3, choices=RepsLeft, blank=True)

    objects = SetLogQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["session_log", "position"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["session_log", "position"], name="one_set_log_at_a_position"),
            models.UniqueConstraint(
                fields=["session_log", "exercise", "number"], name="one_set_of_a_number_in_an_exercise"
            ),
            models.CheckConstraint(condition=Q(reps__gte=0), name="logged_reps_are_at_least_zero"),
            models.CheckConstraint(
                condition=Q(load_kind="mass", load_g__isnull=False, load_entered__isnull=False)
                | (~Q(load_kind="mass") & Q(load_g__isnull=True)),
                name="logged_load_has_grams_if_it_is_a_mass",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.exercise} {self.number}: {self.reps}"


class ExtraWork(models.Model):
    """Work beside the plan that is told in minutes, such as a walk or trunk work."""

    session_log = models.ForeignKey(SessionLog, on_delete=models.CASCADE, related_name="extra_work")
    what = models.CharField(max_length=80)
    minutes = models.DecimalField(max_digits=6, decimal_places=2)
    effort = models.DecimalField(max_digits=4, decimal_places=2, null=True, blank=True)

    objects = SetLogQuerySet.as_manager()

    def __str__(self) -> str:
        return f"{self.what}, {self.minutes} min"


class BodyMeasure(models.Model):
    """Body mass or waist on a day, with how it was taken; opt-in."""

    class What(models.TextChoices):
        MASS = "mass", "body mass"
        WAIST = "waist", "waist"

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="body_measures")
    measured_on = models.DateField()
    what = models.CharField(max_length=5, choices=What)
    entered = models.DecimalField(max_digits=7, decimal_places=3)
    unit = models.CharField(max_length=2)
    protocol = models.CharField(max_length=80, blank=True)

    objects = VisibleThroughClient.as_manager()

    class Meta:
        ordering: ClassVar = ["measured_on", "pk"]

    def __str__(self) -> str:
        return f"{self.what} {self.entered} {self.unit}"


class WeeklyAnswers(models.Model):
    """What a client answered about a week: habits, how it was, a free line."""

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="weekly_answers")
    week_start = models.DateField(help_text="the Monday")
    answers = models.JSONField(default=dict)

    objects = VisibleThroughClient.as_manager()

    class Meta:
        ordering: ClassVar = ["week_start", "pk"]
        verbose_name_plural = "weekly answers"
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["client", "week_start"], name="one_set_of_weekly_answers_a_week"),
        ]

    def __str__(self) -> str:
        return f"answers for the week of {self.week_start}"


class TechniqueClip(models.Model):
    """A short film of a set, sent for the coach to look at."""

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="clips")
    session_log = models.ForeignKey(SessionLog, on_delete=models.SET_NULL, null=True, blank=True, related_name="clips")
    exercise = models.ForeignKey(Exercise, on_delete=models.RESTRICT, related_name="clips")
    file_name = models.CharField(max_length=80)
    received_at = models.DateTimeField(auto_now_add=True)
    seen_at = models.DateTimeField(null=True, blank=True)

    objects = VisibleThroughClient.as_manager()

    class Meta:
        ordering: ClassVar = ["received_at", "pk"]

    def __str__(self) -> str:
        return f"{self.exercise} by {self.client}"
