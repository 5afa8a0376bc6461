from __future__ import annotations

import uuid
from collections.abc import Iterable
from typing import ClassVar, Self

from django.db import models
from django.db.models import Q

from coaching.loads.spans import Span, are_in
from roster.people.models import Coach, Studio
from roster.watching import Thing

KINDS = (("clients", "clients"), ("blocks", "blocks"), ("logs", "logs"))
THINGS = [(thing.value, thing.value) for thing in Thing]


class LoadQuerySet(models.QuerySet["Load"]):
    def visible_to(self, coach: Coach) -> Self:
        """An owner sees every load of the studio, a coach their own; an assistant loads nothing."""
        if not may_load(coach):
            return self.none()
        of_studio = self.filter(studio_id=coach.studio_id)
        return of_studio if coach.role == Coach.Role.OWNER else of_studio.filter(by=coach)

    def standing(self) -> Self:
        return self.filter(undone_at__isnull=True)


class Load(models.Model):
    """A file that was taken into the record: by whom, through which door, and what it did there."""

    class Door(models.TextChoices):
        COMMAND = "command", "command"
        BROWSER = "browser", "browser"

    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    studio = models.ForeignKey(Studio, on_delete=models.CASCADE, related_name="loads")
    by = models.ForeignKey(Coach, on_delete=models.SET_NULL, null=True, related_name="loads")
    door = models.CharField(max_length=7, choices=Door)
    kind = models.CharField(max_length=7, choices=KINDS)
    file_name = models.CharField(max_length=255)
    # SHA-256 of the file's bytes.
    digest = models.CharField(max_length=64)
    rows = models.PositiveIntegerField()
    created = models.PositiveIntegerField()
    changed = models.PositiveIntegerField()
    unchanged = models.PositiveIntegerField()
    # What was said of it, in lines: "changes", "messages", "warnings"; and what a coach mended or left out before.
    told = models.JSONField(default=dict)
    # By thing, the ids that it made, and those of which it said what was there already.
    made = models.JSONField(default=dict)
    said_again = models.JSONField(default=dict)
    loaded_at = models.DateTimeField()
    undone_at = models.DateTimeField(null=True)
    undone_by = models.ForeignKey(Coach, on_delete=models.SET_NULL, null=True, related_name="loads_undone")

    objects = LoadQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["-pk"]
        indexes: ClassVar = [models.Index(fields=["studio", "-id"], name="load_by_studio_newest_first")]

    def __str__(self) -> str:
        return f"{self.file_name}, {self.loaded_at:%-d %B %Y}"

    def spans_made(self, thing: Thing) -> list[Span]:
        return [(first, last) for first, last in self.made.get(thing, ())]

    def has_made(self, thing: Thing, ids: Iterable[int]) -> bool:
        return are_in(ids, self.spans_made(thing))

    def says_again(self, thing: Thing, ids: Iterable[int]) -> bool:
        """Whether it said of any of these what the record said already."""
        return are_in(ids, [(first, last) for first, last in self.said_again.get(thing, ())])


class LoadedThing(models.Model):
    """One client, block, exercise or log that a load made or changed, with what is needed to take that back."""

    load = models.ForeignKey(Load, on_delete=models.CASCADE, related_name="things")
    thing = models.CharField(max_length=8, choices=THINGS)
    # Of a row that may be gone one day. A log is told by its submission.
    thing_id = models.BigIntegerField()
    # How it stood when it was made, or else how it differed from before.
    fingerprint = models.CharField(max_length=64, blank=True)
    difference = models.JSONField(null=True)

    class Meta:
        ordering: ClassVar = ["pk"]
        indexes: ClassVar = [models.Index(fields=["thing", "thing_id"], name="loaded_thing_by_what_it_is")]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["load", "thing", "thing_id"], name="one_row_of_a_loaded_thing"),
            models.CheckConstraint(
                condition=Q(fingerprint="") ^ Q(difference__isnull=True), name="loaded_thing_was_made_or_changed"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.thing} {self.thing_id}"


class KeptSubmission(models.Model):
    """A withdrawn submission whose client was taken back too: as it came, since nothing accepted is ever lost."""

    load = models.ForeignKey(Load, on_delete=models.CASCADE, related_name="kept_submissions")
    client_key = models.CharField(max_length=80)
    uuid = models.UUIDField()
    revision = models.PositiveSmallIntegerField()
    door = models.CharField(max_length=5)
    payload = models.JSONField()
    fingerprint = models.CharField(max_length=64)
    received_at = models.DateTimeField()

    class Meta:
        ordering: ClassVar = ["pk"]

    def __str__(self) -> str:
        return f"{self.client_key}: {self.uuid} ({self.revision})"


class FileInReviewQuerySet(models.QuerySet["FileInReview"]):
    def visible_to(self, coach: Coach) -> Self:
        """Whoever handed a file in reviews it; what is in it is nobody else's business yet."""
        if not may_load(coach):
            return self.none()
        return self.filter(studio_id=coach.studio_id, coach=coach)

    def waiting(self) -> Self:
        return self.filter(load__isnull=True)

    def light(self) -> Self:
        """Without what is long, for lists."""
        return self.defer("lines", "faults", "told", "mends")


class FileInReview(models.Model):
    """A file that was handed in at a page and is looked through, mended and decided on; nothing of it is recorded."""

    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    studio = models.ForeignKey(Studio, on_delete=models.CASCADE, related_name="files_in_review")
    coach = models.ForeignKey(Coach, on_delete=models.CASCADE, related_name="files_in_review")
    file_name = models.CharField(max_length=255)
    digest = models.CharField(max_length=64)
    # Empty while nobody has said what the file is about, and its columns don't tell.
    kind = models.CharField(max_length=7, choices=KINDS, blank=True)
    # The cells as they were read, packed; see `kept_lines`.
    lines = models.BinaryField()
    # By row and column, what stands in a cell now; and rows that are not to be loaded.
    mends = models.JSONField(default=dict)
    left_out = models.JSONField(default=list)
    # What the last check of the whole file found: the columns of `Fault` for each, and what was said.
    rows = models.PositiveIntegerField(default=0)
    faults = models.JSONField(default=list)
    faults_total = models.PositiveIntegerField(default=0)
    faulty_rows = models.PositiveIntegerField(default=0)
    created = models.PositiveIntegerField(default=0)
    changed = models.PositiveIntegerField(default=0)
    unchanged = models.PositiveIntegerField(default=0)
    told = models.JSONField(default=dict)
    checked_at = models.DateTimeField(null=True)
    received_at = models.DateTimeField()
    touched_at = models.DateTimeField()
    # Rises with every change: a decision about an earlier state is not taken.
    version = models.PositiveIntegerField(default=1)
    load = models.ForeignKey(Load, on_delete=models.CASCADE, null=True, related_name="reviews")

    objects = FileInReviewQuerySet.as_manager()

    class Meta:
        ordering: ClassVar = ["-received_at", "-pk"]
        verbose_name_plural = "files in review"

    def __str__(self) -> str:
        return self.file_name

    @property
    def is_ready(self) -> bool:
        return bool(self.kind) and self.checked_at is not None and not self.faults_total


def may_load(coach: Coach) -> bool:
    """Owners and coaches load files; assistants read, and support belongs to no studio."""
    is_in = coach.is_authenticated and coach.is_active and coach.studio_id is not None
    return is_in and coach.role != Coach.Role.ASSISTANT
