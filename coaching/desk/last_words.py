"""What was last said between coach and client, and promised."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from django.db.models import Max, Q, QuerySet

from roster.people.models import Client, Coach, Contact, Promise


@dataclass(frozen=True)
class LastWords:
    """By client: the day of the last contact and whether it was this coach's own; the promise that stands."""

    contacts: Mapping[int, tuple[date, bool]] = field(default_factory=dict)
    promises: Mapping[int, str] = field(default_factory=dict)


def read_last_words(clients: QuerySet[Client], coach: Coach, day: date) -> LastWords:
    return LastWords(read_last_contacts(clients, coach, day), _standing_promises(clients, day))


def read_last_contacts(clients: QuerySet[Client], coach: Coach, day: date) -> dict[int, tuple[date, bool]]:
    last = (
        Contact.objects.filter(client__in=clients, made_on__lte=day)
        .order_by()
        .values_list("client_id")
        .annotate(Max("made_on"), own=Max("made_on", filter=Q(made_by=coach)))
    )
    return {client_id: (made_on, own == made_on) for client_id, made_on, own in last}


def _standing_promises(clients: QuerySet[Client], day: date) -> dict[int, str]:
    """The latest of each client's that nobody has ticked as kept or broken."""
    standing = Promise.objects.filter(client__in=clients, made_on__lte=day, kept__isnull=True)
    return dict(standing.order_by("made_on", "pk").values_list("client_id", "text"))
