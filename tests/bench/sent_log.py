"""A log that comes in: recorded alone, and recorded with everything that follows from it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime

from django.db import transaction
from django.utils import timezone

from coaching.monitoring.refresh import refresh_clients
from roster.logs.models import SessionLog, SetLog
from roster.people.models import Coach
from tests.bench.report import Line
from tests.bench.timing import Times

CLIENTS_REFRESHED = 40
# The first ones load what the others find loaded.
WARMING = 3


def time_sent_logs(coach: Coach, weeks: int) -> Iterator[Line]:
    """Of one client after another: a log alone, the refresh after it, and both in one transaction."""
    now = timezone.now()
    with_details = SessionLog.objects.filter(client__studio=coach.studio, has_details=True)
    clients = list(with_details.order_by("client_id").values_list("client_id", flat=True).distinct())
    alone, refresh, both = Times(), Times(), Times()
    for number, pk in enumerate(clients[: CLIENTS_REFRESHED + WARMING]):
        log = with_details.filter(client_id=pk).order_by("-pk")[0]
        counts = number >= WARMING
        (alone if counts else Times()).add(lambda log=log: log_again(log.pk, now.date()))
        (refresh if counts else Times()).add(lambda pk=pk: refresh_clients([pk], now))
        (both if counts else Times()).add(lambda log=log: _log_and_refresh(log, now))
    sets = SetLog.objects.filter(session_log__client__in=clients).count() / max(len(clients), 1)
    told = f"one client, {weeks} weeks, {sets:.0f} sets"
    goal = {"goal": "< 15 ms", "most": 15} if weeks == 26 else {}
    yield Line(f"{told}: refresh", "product, database and all", refresh, **goal)
    yield Line(f"{told}: a log alone", "product", alone)
    yield Line(f"{told}: a log, facts and findings", "product", both, alone, is_throughput=True)


@transaction.atomic
def _log_and_refresh(log: SessionLog, now: datetime) -> None:
    log_again(log.pk, now.date())
    refresh_clients([log.client_id], now)


@transaction.atomic
def log_again(pk: int, on: date) -> None:
    """The client did the same once more."""
    log = SessionLog.objects.select_related("submission").get(pk=pk)
    sets = list(log.sets.all())
    submission = log.submission
    submission.pk, submission.uuid = None, type(log)._meta.get_field("public_id").default()
    submission.save()
    log.pk, log.public_id, log.submission, log.performed_on = None, submission.uuid, submission, on
    log.planned_session = None
    log.save()
    for done in sets:
        done.pk, done.session_log = None, log
    SetLog.objects.bulk_create(sets)
