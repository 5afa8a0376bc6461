"""Keeping a pack: every edit makes a new version, and none is made from a page that has been overtaken."""

from __future__ import annotations

from datetime import date, datetime

from django.db import IntegrityError, transaction

from coaching.check_ins.content import Pack
from coaching.check_ins.edits import Edits
from coaching.check_ins.models import PackVersion
from coaching.check_ins.snapshots import snapshot_of
from roster.people.models import Client, Coach


class Overtaken(Exception):
    """Somebody has kept another version since the page was opened."""


def newest_of(client: Client, first: date, last: date) -> PackVersion | None:
    return PackVersion.objects.of(client, first, last).first()


def keep_version(
    *, client: Client, composed: Pack, edits: Edits, after: int, by: Coach, now: datetime
) -> PackVersion:
    """The next version after number `after`, 0 for the first; refused where that is not the newest any more."""
    period = composed.period
    newest = newest_of(client, period.first, period.last)
    if (newest.number if newest else 0) != after:
        raise Overtaken
    try:
        with transaction.atomic():
            return PackVersion.objects.create(
                client=client, first=period.first, last=period.last, title=period.title, number=after + 1,
                made_by=by, made_at=now, content=snapshot_of(composed), edits=edits.as_json(),
            )
    except IntegrityError:
        # Another was quicker between the look and the row.
        raise Overtaken from None


def mark_given(*, version: PackVersion, how: str, to: str, on: date, by: Coach) -> None:
    """That the client has it; what the version says is left as it is."""
    version.given_how, version.given_to, version.given_on, version.given_by = how, to, on, by
    version.save(update_fields=["given_how", "given_to", "given_on", "given_by"])


def mark_not_given(*, version: PackVersion) -> None:
    version.given_how, version.given_to, version.given_on, version.given_by = "", "", None, None
    version.save(update_fields=["given_how", "given_to", "given_on", "given_by"])
