"""What a coach can do about a finding: mark it seen, put it aside until a day, close it with a reason.

Every act is an event of the finding; the flag shows where it was left. Pages and the interface for programs come
through here, each within `holding`, so that nobody acts on a finding that a colleague has just changed.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import date, datetime, timedelta

from django.db import connection, transaction

from coaching.monitoring.models import ClientState, Flag, FlagEvent, Kind
from coaching.monitoring.refresh import refresh_clients
from roster.people.models import Client, Coach, Contact

TEXT_LENGTH = 2000
# Pain is put aside for a day at most.
_PAIN_PUT_ASIDE_DAYS = 1
_LONGEST_ASIDE = timedelta(days=366)
_STAMP_LENGTH = 16


class ActRefused(Exception):
    """The act is not allowed as asked; the message says why, for the coach to read."""


@contextmanager
def holding(client: Client, now: datetime) -> Iterator[None]:
    """The client's findings as at their own today, which nobody else changes meanwhile; all of it or nothing."""
    with transaction.atomic():
        if connection.features.has_select_for_update:
            Client.objects.select_for_update().get(pk=client.pk)
        if not ClientState.objects.filter(client=client, as_of=client.today(now)).exists():
            refresh_clients([client.pk], now)
        yield


def stamp_of(flags: Iterable[Flag]) -> str:
    """Another one when what a coach decides on is another: which findings, how urgent, and where they were left."""
    left = sorted(
        f"{flag.kind} {flag.subject} {flag.urgency} {flag.seen_on} {flag.put_aside_until} {flag.closed_on}"
        for flag in flags
    )
    return hashlib.sha256("\n".join(left).encode()).hexdigest()[:_STAMP_LENGTH]


@transaction.atomic
def mark_seen(*, flag: Flag, by: Coach, on: date, note: str = "") -> None:
    _add_event(flag, FlagEvent.What.SEEN, by=by, on=on, note=note)
    flag.seen_on = on
    flag.save(update_fields=["seen_on"])


@transaction.atomic
def put_aside(*, flag: Flag, by: Coach, on: date, until: date, note: str = "") -> None:
    """Keep a finding off the list until a day; pain for a day at most, with a contact since yesterday recorded."""
    if until <= on:
        raise ActRefused("Put it aside until a day that is still to come.")
    if until > on + _LONGEST_ASIDE:
        raise ActRefused("Put it aside for a year at most.")
    if flag.kind == Kind.PAIN:
        _check_pain_may_wait(flag, on, until)
    _add_event(flag, FlagEvent.What.PUT_ASIDE, by=by, on=on, until=until, note=note)
    flag.put_aside_until = until
    flag.save(update_fields=["put_aside_until"])


def _check_pain_may_wait(flag: Flag, on: date, until: date) -> None:
    if until > on + timedelta(days=_PAIN_PUT_ASIDE_DAYS):
        raise ActRefused("Pain can be put aside for a day at most.")
    since = on - timedelta(days=1)
    if not Contact.objects.filter(client_id=flag.client_id, made_on__gte=since, made_on__lte=on).exists():
        raise ActRefused("Pain can be put aside only with a contact recorded: note the call or message first.")


@transaction.atomic
def close(*, flag: Flag, by: Coach, on: date, reason: str) -> None:
    """End an episode by the coach's word. It is opened again when it becomes worse."""
    if not reason.strip():
        raise ActRefused("Say why it is closed.")
    _add_event(flag, FlagEvent.What.CLOSED, by=by, on=on, note=reason.strip())
    flag.closed_on = on
    flag.save(update_fields=["closed_on"])


def keep_contact(*, client: Client, by: Coach, on: date, how: str, outcome: str = "") -> None:
    """That the coach has just called, written to or met the client."""
    Contact.objects.create(client=client, made_by=by, how=how, made_on=on, outcome=outcome)


def _add_event(
    flag: Flag, what: str, *, by: Coach, on: date, until: date | None = None, note: str = ""
) -> None:
    if flag.closed_on is not None:
        raise ActRefused("It is closed already.")
    FlagEvent.objects.create(
        client_id=flag.client_id, kind=flag.kind, subject=flag.subject, what=what, on=on, by=by, until=until,
        urgency=flag.urgency, note=note,
    )
