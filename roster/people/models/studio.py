from __future__ import annotations

from typing import Any, ClassVar

from django.contrib.auth.models import AbstractUser, UserManager
from django.db import models
from django.db.models.functions import Lower

from roster.people.zones import validate_time_zone

TAKEN = "Somebody signs in with this address already."


class Studio(models.Model):
    """A business that owns its data; coaches and clients belong to exactly one."""

    name = models.CharField(max_length=120)
    time_zone = models.CharField(max_length=64, default="UTC", validators=[validate_time_zone])
    # What the studio has set otherwise than the defaults, by the name of the threshold.
    thresholds = models.JSONField(default=dict, blank=True)
    # No check-in call is due before; empty, and none ever is.
    check_ins_from = models.DateField(null=True, blank=True)
    opened_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(Lower("name"), name="one_studio_of_a_name")]

    def __str__(self) -> str:
        return self.name


class CoachManager(UserManager["Coach"]):
    """Coaches sign in with their e-mail address; there is no other name for them."""

    @classmethod
    def normalize_email(cls, email: str | None) -> str:
        """Small letters throughout: nobody remembers which they once wrote large."""
        return (email or "").strip().lower()

    def _create_user(self, email: str, password: str | None, **fields: Any) -> Coach:
        coach = self.model(email=self.normalize_email(email), **fields)
        coach.set_password(password)
        coach.save(using=self._db)
        return coach

    def create_user(self, email: str, password: str | None = None, **fields: Any) -> Coach:  # type: ignore[override]
        return self._create_user(email, password, **fields)

    def create_superuser(self, email: str, password: str | None = None, **fields: Any) -> Coach:  # type: ignore[override]
        return self._create_user(email, password, **{"is_staff": True, "is_superuser": True, **fields})

    def get_by_natural_key(self, username: str | None) -> Coach:
        return self.get(email__iexact=username)


class Coach(AbstractUser):
    """A person who signs in at the desk: the studio's owner, a coach, or an assistant who reads."""

    class Role(models.TextChoices):
        OWNER = "owner", "owner"
        COACH = "coach", "coach"
        ASSISTANT = "assistant", "assistant"

    username = None  # type: ignore[assignment]
    email = models.EmailField(unique=True, error_messages={"unique": TAKEN})
    # Empty only for support staff, who belong to no studio and see none of its people.
    studio = models.ForeignKey(Studio, on_delete=models.CASCADE, null=True, blank=True, related_name="coaches")
    role = models.CharField(max_length=10, choices=Role, default=Role.COACH)
    time_zone = models.CharField(max_length=64, default="UTC", validators=[validate_time_zone])

    USERNAME_FIELD = "email"
    REQUIRED_FIELDS: ClassVar = []
    objects = CoachManager()  # type: ignore[misc,assignment]

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(
                Lower("email"),
                name="one_coach_of_an_email",
                violation_error_message=TAKEN,
            ),
        ]

    def __str__(self) -> str:
        return self.get_full_name() or self.email

    @property
    def initials(self) -> str:
        return (self.first_name[:1] + self.last_name[:1]).upper() or self.email[:2].upper()
