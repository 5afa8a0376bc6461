from __future__ import annotations

import uuid
from datetime import datetime
from typing import ClassVar

from django.db import models
from knox.models import AbstractAuthToken, AuthTokenManager

from roster.people.models import Coach


class Scope(models.TextChoices):
    """What a program may do with a token; never more than the person whose token it is."""

    READ = "read", "See whatever you see at the desk"
    ACT = "act", "Mark findings as seen, put them aside and close them, in your name"


class AccessTokenManager(AuthTokenManager):
    def alive(self, now: datetime) -> models.QuerySet[AccessToken]:
        return self.get_queryset().filter(expiry__gt=now)


class AccessToken(AbstractAuthToken):
    """One program's way in, in the name of a coach: its digest alone is kept, and it ends by itself."""

    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    name = models.CharField(max_length=80, help_text="what the program is called")
    scopes = models.JSONField(default=list)
    last_used_at = models.DateTimeField(null=True, blank=True)
    # What the coach's sessions hang on when it was made: another password ends both.
    sign_in_mark = models.CharField(max_length=64)

    objects = AccessTokenManager()

    class Meta:
        ordering: ClassVar = ["-created", "pk"]

    def __str__(self) -> str:
        return self.name

    @property
    def scope_sentences(self) -> list[str]:
        return [str(Scope(scope).label) for scope in self.scopes]

    def belongs_to_present_sign_in(self, coach: Coach) -> bool:
        return bool(self.sign_in_mark == coach.get_session_auth_hash())
