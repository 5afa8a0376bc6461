"""What packs are made of besides figures, read for many clients at once: so many queries, however many they are."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from analytics.iso_weeks import monday_of
from coaching.check_ins.answers import read_answers
from coaching.check_ins.content import Answer, ContactLine, Period
from coaching.check_ins.periods import BlockDays
from coaching.monitoring.models import Flag
from coaching.monitoring.piles import KIND_ORDER, URGENCY_ORDER
from coaching.monitoring.staircases import Planned, read_planned_of
from roster.blocks.models import Block, PlannedSession
from roster.people.models import Client, Coach, Contact, Pause, Promise


@dataclass(frozen=True, slots=True)
class PlannedSessionWords:
    """What a week names of a planned session."""

    label: str
    week: int
    block: str
    suggested_on: date


@dataclass
class Read:
    """By client's id, but sessions by their own and coaches by theirs."""

    coaches: dict[int, Coach] = field(default_factory=dict)
    blocks: dict[int, list[BlockDays]] = field(default_factory=dict)
    sessions: dict[int, PlannedSessionWords] = field(default_factory=dict)
    planned: dict[int, list[Planned]] = field(default_factory=dict)
    pauses: dict[int, list[Pause]] = field(default_factory=dict)
    contacts: dict[int, list[ContactLine]] = field(default_factory=dict)
    promises: dict[int, list[Promise]] = field(default_factory=dict)
    answers: dict[int, tuple[Answer, ...]] = field(default_factory=dict)
    since: dict[int, list[Flag]] = field(default_factory=dict)


def read_all(clients: Sequence[Client], period: Period) -> Read:
    ids = [client.pk for client in clients]
    return Read(
        coaches=Coach.objects.in_bulk({client.lead_id for client in clients}),
        blocks=_blocks(ids),
        sessions=_sessions(ids, period),
        planned=read_planned_of(ids, *whole_weeks(period)),
        pauses=_by_client(
            Pause.objects.standing().filter(client_id__in=ids, from_on__lte=period.last, until_on__gte=period.first)
        ),
        contacts=_contacts(ids, period),
        promises=_by_client(
            Promise.objects.filter(client_id__in=ids, made_on__lte=period.last).order_by("made_on", "pk")
        ),
        answers=read_answers(ids, period),
    )


def read_since(after: Mapping[int, date], until: Mapping[int, date]) -> dict[int, list[Flag]]:
    """By client what stands today, and began after the logs that are read; what a coach has closed is left out."""
    begun = Flag.objects.filter(client_id__in=list(after), opened_on__gt=min(after.values()))
    stands = begun.filter(holds=True, closed_on=None)
    rows = [flag for flag in stands if after[flag.client_id] < flag.opened_on <= until[flag.client_id]]
    return _by_client(sorted(rows, key=lambda flag: (URGENCY_ORDER[flag.urgency], KIND_ORDER[flag.kind], flag.subject)))


def whole_weeks(period: Period) -> tuple[date, date]:
    """The Monday and the Sunday around a period."""
    return monday_of(period.first), monday_of(period.last) + timedelta(days=6)


def _blocks(ids: list[int]) -> dict[int, list[BlockDays]]:
    found: dict[int, list[BlockDays]] = defaultdict(list)
    for block in Block.objects.published().filter(client_id__in=ids).only("client_id", "label", "starts_on", "weeks"):
        found[block.client_id].append(BlockDays(block.label, block.starts_on, block.ends_on))
    return found


def _sessions(ids: list[int], period: Period) -> dict[int, PlannedSessionWords]:
    planned = PlannedSession.objects.filter(block__client_id__in=ids, block__published_at__isnull=False)
    rows = planned.filter(suggested_on__range=(period.first, period.last)).order_by()
    columns = ("pk", "label", "week", "block__label", "suggested_on")
    return {pk: PlannedSessionWords(*words) for pk, *words in rows.values_list(*columns)}


def _contacts(ids: list[int], period: Period) -> dict[int, list[ContactLine]]:
    made = Contact.objects.filter(client_id__in=ids, made_on__range=(period.first, period.last))
    found: dict[int, list[ContactLine]] = defaultdict(list)
    for contact in made.order_by("made_on", "pk"):
        line = ContactLine(contact.made_on, str(contact.get_how_display()), contact.outcome)
        found[contact.client_id].append(line)
    return found


def _by_client(rows: Iterable[Any]) -> dict[int, list[Any]]:
    found: dict[int, list[Any]] = defaultdict(list)
    for row in rows:
        found[row.client_id].append(row)
    return found
