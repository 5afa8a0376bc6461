"""That somebody other than the lead coach was shown health data through the interface."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta

from django.utils import timezone

from coaching.monitoring.fact_pages import Person
from roster.people.models import Coach, ViewRecord

# A program that looks every few minutes is one look a day.
ONE_LOOK = timedelta(days=1)


def record_views(coach: Coach, people: Iterable[Person], resource: str) -> None:
    shown = {person.pk for person in people if person.lead_id != coach.pk}
    if not shown:
        return
    page = f"api {resource}"
    since = timezone.now() - ONE_LOOK
    known = ViewRecord.objects.filter(coach=coach, page=page, client_id__in=shown, seen_at__gt=since)
    new = shown - set(known.values_list("client_id", flat=True))
    ViewRecord.objects.bulk_create([ViewRecord(client_id=pk, coach=coach, page=page) for pk in sorted(new)])
