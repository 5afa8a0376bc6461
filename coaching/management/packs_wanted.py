"""Whose packs a command was asked for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import chain
from typing import Any

from django.db.models import QuerySet
from django.utils import timezone

from coaching.check_ins.asking import Asked, period_of, period_of_all
from coaching.check_ins.content import Pack
from coaching.check_ins.making import packs_to_give
from coaching.check_ins.periods import PeriodRefused
from coaching.management.studios import Refused, chosen_studios
from roster.labels import fold
from roster.people.models import Client, Studio
from roster.people.zones import local_date


def wanted_packs(options: Mapping[str, Any], asked: Asked) -> Iterator[tuple[Client, Pack]]:
    """Each with its client; refused before anything is written."""
    try:
        if options["client"] is None:
            return _of_all(options, asked)
        return _of_one(options, asked)
    except PeriodRefused as refused:
        raise Refused(str(refused)) from None


def _of_one(options: Mapping[str, Any], asked: Asked) -> Iterator[tuple[Client, Pack]]:
    now = timezone.now()
    client = _named(options["client"], options["studio"])
    return packs_to_give([client], period_of(client, asked, client.today(now)), now)


def _of_all(options: Mapping[str, Any], asked: Asked) -> Iterator[tuple[Client, Pack]]:
    if asked.block:
        raise Refused("--block goes with --client: a block is one client's")
    now = timezone.now()
    studios = [(one, period_of_all(asked, local_date(now, one.time_zone))) for one in chosen_studios(options["studio"])]
    return chain.from_iterable(packs_to_give(_active(studio), period, now) for studio, period in studios)


def _active(studio: Studio) -> QuerySet[Client]:
    return Client.objects.filter(studio=studio).active().select_related("studio", "lead").order_by("key_folded")


def _named(key: str, studio: str | None) -> Client:
    studios = chosen_studios(studio)
    found = list(Client.objects.filter(studio__in=studios, key_folded=fold(key)).select_related("studio", "lead"))
    if not found:
        raise Refused(f"there is no client “{key}”")
    if len(found) > 1:
        raise Refused(f"several studios have a client “{key}”: say which with --studio")
    return found[0]
