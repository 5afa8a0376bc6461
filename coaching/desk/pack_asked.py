"""Which pack an address asks for: client, period, which version of it, which paper."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from urllib.parse import urlencode

from django.contrib import messages
from django.http import Http404, HttpRequest
from django.utils import timezone

from coaching.check_ins.asking import Asked, period_of
from coaching.check_ins.composing import compose
from coaching.check_ins.content import Pack, Paper, Period
from coaching.check_ins.edits import Edits, edited
from coaching.check_ins.models import PackVersion
from coaching.check_ins.periods import PeriodRefused, is_month, month_before
from coaching.check_ins.snapshots import stamp_of
from coaching.check_ins.versions import newest_of
from coaching.desk.choices import chosen
from roster.people.models import Client

# In the place of a number: as the record stands now.
LIVE = "live"


@dataclass(frozen=True)
class PackAsked:
    """`version` is None for a pack that is composed now; `newest` is the last that was kept of the period."""

    client: Client
    asked: Asked
    period: Period
    paper: Paper
    newest: PackVersion | None
    version: PackVersion | None
    composed: Pack
    edits: Edits

    @property
    def pack(self) -> Pack:
        return edited(self.composed, self.edits)

    @property
    def is_newest(self) -> bool:
        return self.version is not None and self.version == self.newest

    @property
    def after(self) -> int:
        """The number that a further version comes after."""
        return self.newest.number if self.newest else 0

    @property
    def of(self) -> str:
        return str(self.version.number) if self.version else LIVE

    @property
    def stamp(self) -> str:
        """What the record said; a kept version says the same for good."""
        return "" if self.version else stamp_of(self.composed)

    @property
    def days(self) -> str:
        """The part of an address that asks for the same period."""
        if self.asked.block:
            return urlencode({"block": self.asked.block})
        if is_month(self.period):
            return f"month={self.period.first:%Y-%m}"
        return urlencode({"from": self.period.first.isoformat(), "to": self.period.last.isoformat()})


def read_pack_asked(request: HttpRequest, client: Client, version: str = "") -> PackAsked:
    """A period that can't be is told, and last month shown; of its versions the newest, unless another is meant."""
    now = timezone.now()
    today, asked = client.today(now), asked_in(request)
    try:
        period = period_of(client, asked, today)
    except PeriodRefused as refused:
        messages.warning(request, f"{refused} This is last month.")
        asked, period = Asked(), month_before(today)
    newest = newest_of(client, period.first, period.last)
    meant = _version_meant(version, client, period, newest)
    composed, edits = _content(client, period, newest, meant, now)
    return PackAsked(client, asked, period, chosen(request, "paper", Paper.MINE), newest, meant, composed, edits)


def asked_in(request: HttpRequest) -> Asked:
    names = {"month": "month", "block": "block", "first": "from", "last": "to"}
    return Asked(**{field: request.GET.get(name, "").strip() for field, name in names.items()})


def _version_meant(number: str, client: Client, period: Period, newest: PackVersion | None) -> PackVersion | None:
    if number in ("", LIVE):
        return None if number else newest
    if not (number.isascii() and number.isdecimal() and len(number) < 10):
        raise Http404
    version = PackVersion.objects.of(client, period.first, period.last).filter(number=int(number)).first()
    if version is None:
        raise Http404
    return version


def _content(
    client: Client, period: Period, newest: PackVersion | None, version: PackVersion | None, now: datetime
) -> tuple[Pack, Edits]:
    if version is not None:
        return version.composed, version.changes
    edits = newest.changes.carried_over if newest else Edits()
    return compose(client, period, now=now), edits
