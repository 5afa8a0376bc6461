"""What the Turnout board says beside the facts: who pauses, what was last said, extra sessions."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date

from django.db.models import QuerySet

from coaching.desk.last_words import read_last_contacts
from coaching.monitoring.mark_words import ExtraMark
from coaching.monitoring.models import LogFact
from roster.people.models import Client, Coach, Pause


@dataclass(frozen=True)
class Beside:
    """By client id."""

    paused: frozenset[int]
    # The day, and whether it was this coach's own.
    last_contacts: Mapping[int, tuple[date, bool]]


def read_beside(clients: QuerySet[Client], coach: Coach, day: date) -> Beside:
    return Beside(
        paused=frozenset(Pause.objects.covering(day).filter(client__in=clients).values_list("client_id", flat=True)),
        last_contacts=read_last_contacts(clients, coach, day),
    )


def read_extras(client_ids: Collection[int], *, since: date, as_of: date | None) -> Mapping[int, list[ExtraMark]]:
    """`as_of` None is each client's own today, as it is for their facts."""
    extras: dict[int, list[ExtraMark]] = defaultdict(list)
    unplanned = LogFact.objects.filter(
        client__in=client_ids,
        standing=LogFact.Standing.EXTRA,
        performed_on__gte=since,
        performed_on__lte=as_of or date.max,
    )
    for client_id, performed_on, sets in unplanned.values_list("client_id", "performed_on", "working_sets"):
        extras[client_id].append(ExtraMark(performed_on, sets))
    return extras
