"""What happened to findings since a coach last looked."""

from __future__ import annotations

from datetime import datetime

from django.db.models import QuerySet

from coaching.desk.findings import Subject, subject_of
from coaching.monitoring.models import FlagEvent
from roster.people.models import Client

NEWS = (FlagEvent.What.OPENED, FlagEvent.What.CHANGED, FlagEvent.What.REOPENED)


def news_since(clients: QuerySet[Client], instant: datetime | None) -> frozenset[Subject]:
    """Findings that opened, changed or opened again; nothing is news to somebody who was never here."""
    if instant is None:
        return frozenset()
    events = FlagEvent.objects.filter(client__in=clients, what__in=NEWS, at__gt=instant).order_by()
    return frozenset(subject_of(*row) for row in events.values_list("client_id", "kind", "subject"))
