"""Writes that touch several rows of people."""

from __future__ import annotations

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction

from roster.labels import fold
from roster.people.models import Coach, Studio


@transaction.atomic
def open_studio(*, name: str, owner_email: str, password: str, time_zone: str) -> Studio:
    """A studio with its owner; raises ValidationError in plain words, and then neither is there."""
    studio = Studio(name=name.strip(), time_zone=time_zone)
    if fold(studio.name) in map(fold, Studio.objects.values_list("name", flat=True)):
        raise ValidationError(f"There is a studio “{studio.name}” already.")
    studio.full_clean()
    studio.save()
    owner = Coach(email=Coach.objects.normalize_email(owner_email.strip()), studio=studio, role=Coach.Role.OWNER)
    owner.time_zone = time_zone
    validate_password(password, owner)
    owner.set_password(password)
    owner.full_clean()
    owner.save()
    return studio
