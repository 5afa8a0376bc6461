"""Makes packs: one, or those of many clients at once, who share what has to be read.

Sessions are counted as at the day on which none of the period is waited for any more - its last week over, and what
weekly senders may take - or today before it: so a session of the 31st that is done on the 2nd belongs to its month.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, datetime, timedelta

from analytics.flag_thresholds import Thresholds
from analytics.iso_weeks import monday_of
from coaching.check_ins.content import Pack, Period
from coaching.monitoring.refresh import shards
from roster.people.models import Client, Studio


def compose(client: Client, period: Period, *, now: datetime, as_of: date | None = None) -> Pack:
    """What there is to say of a client's period; `as_of` None is their own today."""
    return next(compose_many([client], period, now=now, as_of=as_of))


def compose_many(
    clients: Iterable[Client], period: Period, *, now: datetime, as_of: date | None = None
) -> Iterator[Pack]:
    """The pack of each, in the order given, one studio after the other; the same as `compose` makes one by one."""
    # pandas comes in here, so that pages that show what is kept do not load it.
    from coaching.check_ins.shard import compose_shard

    by_id = {client.pk: client for client in clients}
    for studio, days in shards(by_id.values(), now=now, as_of=as_of):
        settled_on = settled_day(period, studio)
        counted_on = {pk: min(day, settled_on) for pk, day in days.items()}
        yield from compose_shard(studio, [by_id[pk] for pk in days], counted_on, days, period)


def settled_day(period: Period, studio: Studio) -> date:
    """The first day on which no session of the period is waited for, of those who send each one or weekly."""
    grace = Thresholds.with_settings(studio.thresholds).sending_grace_days
    return monday_of(period.last) + timedelta(days=6 + grace + 1)
