"""The one rule for who may reach what: every row is reached through its client, every client through its coach."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Self

from django.apps import apps
from django.db import models

if TYPE_CHECKING:
    from roster.people.models import Coach


class VisibleThroughClient(models.QuerySet[Any]):
    """Rows that belong to a client; `client_path` says by which relation."""

    client_path = "client"

    def visible_to(self, coach: Coach) -> Self:
        clients = apps.get_model("people", "Client").objects.visible_to(coach)
        return self.filter(**{f"{self.client_path}__in": clients})

    def changeable_by(self, coach: Coach) -> Self:
        clients = apps.get_model("people", "Client").objects.changeable_by(coach)
        return self.filter(**{f"{self.client_path}__in": clients})
