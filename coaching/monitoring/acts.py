"""What a coach can do about a finding: mark it seen, put it aside until a day, close it with a reason.

Every act is an event of the finding; the flag shows where it was left.
"""

from __future__ import annotations

from datetime import date, timedelta

from django.db import transaction

from coaching.monitoring.models import Flag, FlagEvent, Kind
from roster.people.models import Coach, Contact

# Pain is put aside for a day at most.
_PAIN_PUT_ASIDE_DAYS = 1


class ActRefused(Exception):
    """The act is not allowed as asked; the message says why, for the coach to read."""


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


def _add_event(
    flag: Flag, what: str, *, by: Coach, on: date, until: date | None = None, note: str = ""
) -> None:
    FlagEvent.objects.create(
        client_id=flag.client_id, kind=flag.kind, subject=flag.subject, what=what, on=on, by=by, until=until,
        urgency=flag.urgency, note=note,
    )
