"""What the Turnout board says beside the facts: extra sessions, who pauses, what was last said."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from django.db.models import QuerySet

from coaching.desk.last_words import LastWords, read_last_words
from coaching.desk.marks import ExtraMark
from coaching.monitoring.models import LogFact
from roster.people.models import Client, Coach, Pause


@dataclass(frozen=True)
class Beside:
    """By client id."""

    extras: Mapping[int, list[ExtraMark]]
    paused: frozenset[int]
    words: LastWords


def read_beside(clients: QuerySet[Client], coach: Coach, *, day: date, since: date, as_of: date | None) -> Beside:
    """`as_of` None is each client's own today, as it is for their facts."""
    return Beside(
        extras=_extra_sessions(clients, since, as_of or date.max),
        paused=frozenset(Pause.objects.covering(day).filter(client__in=clients).values_list("client_id", flat=True)),
        words=read_last_words(clients, coach, day),
    )


def _extra_sessions(clients: QuerySet[Client], since: date, until: date) -> dict[int, list[ExtraMark]]:
    extras: dict[int, list[ExtraMark]] = defaultdict(list)
    unplanned = LogFact.objects.filter(
        client__in=clients, standing=LogFact.Standing.EXTRA, performed_on__gte=since, performed_on__lte=until
    )
    for client_id, performed_on, sets in unplanned.values_list("client_id", "performed_on", "working_sets"):
        extras[client_id].append(ExtraMark(performed_on, sets))
    return extras
