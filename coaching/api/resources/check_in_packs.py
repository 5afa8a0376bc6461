from __future__ import annotations

from collections.abc import Sequence
from typing import Any
from uuid import UUID

from django.db.models import QuerySet
from rest_framework.request import Request

from coaching.api.answering import OneOf, RecordList
from coaching.api.fields import RowOf, amount, choice, client_members, count, day, ident, instant, rows, text, texts
from coaching.api.parameters import ClientFilters
from coaching.api.parameters import day as on_day
from coaching.check_ins.content import Change, Figure, FigureKey, Pack, PackWeek, Part
from coaching.check_ins.models import PackVersion
from coaching.monitoring.fact_pages import Wanted
from coaching.monitoring.fact_shapes import Row

KEYS = [(key.value, key.value) for key in FigureKey]
CHANGES = [(change.value, change.value) for change in Change]
PARTS = [(part.value, part.value) for part in Part]


class FigureRow(RowOf):
    key = choice(KEYS, "What it tells; best_sets has a row for each exercise.")
    name = text("Its name, as on the page.")
    unit = text("Of its numbers.", null=True)
    now = amount("In the period; null where it is unknown.", null=True)
    before = amount("In the period before; null where it is unknown.", null=True)
    change = choice(CHANGES, "What may be said of the two.")
    change_text = text("The same in words, with how much.", null=True)
    made = text("How it was made, with its bounds.", null=True)


class PackWeekRow(RowOf):
    week_start = day("A Monday.")
    block = text("What was planned in it.", null=True)
    due = count("Sessions that were due.")
    attended = count("Of these, those that were logged.")
    tonnage_kg = amount("Lifted in it; null where it is unknown.", null=True)
    dose = amount("The share of the plan done, 0 to 1; null where it is unknown.", null=True)
    note = text("Such as away.", null=True)


class RemarkRow(RowOf):
    part = choice(PARTS, "Under which part of the pack it stands.")
    text = text("The coach's words.")


class PackRow(RowOf):
    id = ident("The version's id.")
    client_id, client = client_members()
    title = text("Of the period, such as March 2026.")
    first = day("Its first day.")
    last = day("Its last day.")
    number = count("From 1, within client and period; the highest is the newest.")
    made_at = instant("When it was kept.")
    given_on = day("When the client was given it, if they were.", null=True)
    given_how = text("sent, handed or read; null if it was not given.", null=True)
    given_to = text("Whom, where it was not the client.", null=True)
    sentences = texts("As the coach left them.")
    figures = rows(FigureRow, "Beside those of the period before.")
    weeks = rows(PackWeekRow, "Week by week.")
    found = texts("What was found in the period, for the coach alone.")
    questions = texts("To ask in the call, for the coach alone.")
    hidden = texts("Parts that stand on neither paper.")
    remarks = rows(RemarkRow, "What the coach added.")


EXAMPLE: Row = {
    "id": "2f5c1c0e-8f0e-4f4a-9a55-6a1f0c7e2b14", "client_id": "6f0c8a52-3a8e-4b0e-9a55-0d2f6c1c7e11",
    "client": "ada.finn", "title": "March 2026", "first": "2026-03-01", "last": "2026-03-31", "number": 1,
    "made_at": "2026-04-02T09:00:00Z", "given_on": "2026-04-03", "given_how": "sent", "given_to": None,
    "sentences": ["9 of 12 sessions due in March 2026 were logged."],
    "figures": [{
        "key": "turnout", "name": "Turnout", "unit": "%", "now": 0.75, "before": 0.91, "change": "too little to tell",
        "change_text": "too little to tell", "made": "Sessions attended of sessions due.",
    }],
    "weeks": [{
        "week_start": "2026-03-02", "block": "First steps", "due": 3, "attended": 2, "tonnage_kg": 1440.0,
        "dose": 0.66, "note": None,
    }],
    "found": [], "questions": ["How does the knee feel on stairs?"], "hidden": ["staircases"],
    "remarks": [{"part": "figures", "text": "Away in the second week."}],
}  # fmt: skip


class PackFilters(ClientFilters):
    last_from = on_day("last", "gte", "Of periods that end on this day or later.")
    last_to = on_day("last", "lte", "Of periods that end on this day or earlier.")


def pack_row(version: PackVersion) -> Row:
    same = ("title", "first", "last", "number", "made_at", "given_on", "given_how", "given_to")
    return {
        "id": version.public_id, "client_id": version.client.public_id, "client": version.client.key,
        **{name: getattr(version, name) for name in same}, **_content(version.pack),
    }  # fmt: skip


def _content(pack: Pack) -> Row:
    return {
        "sentences": [sentence.text for sentence in pack.sentences],
        "figures": _shown(FigureRow, pack.figures),
        "weeks": _shown(PackWeekRow, pack.weeks),
        "found": [found.sentence for found in pack.found],
        "questions": list(pack.questions),
        "hidden": [part.value for part in Part if part in pack.hidden],
        "remarks": [{"part": part.value, "text": pack.remarks[part]} for part in Part if part in pack.remarks],
    }


def _shown(shape: type[RowOf], values: Sequence[Figure | PackWeek]) -> list[Row]:
    named = shape()
    return [named.to_representation({name: getattr(value, name) for name in named.fields}) for value in values]


class CheckInPacks(RecordList):
    name = "check-in-packs"
    summary = "Check-in packs that were kept: client after client, each one's by period and number."
    shape, example, filters, tells_health = PackRow, EXAMPLE, PackFilters, True
    order = ("client__public_id", "last", "first", "number")

    def queryset(self, wanted: Wanted) -> QuerySet[PackVersion]:
        return PackVersion.objects.filter(wanted.query, client__in=wanted.clients).select_related("client")

    def rows(self, page: Any) -> list[Row]:
        return [pack_row(version) for version in page]


class OneCheckInPack(OneOf):
    name, summary = "check-in-packs", "One kept check-in pack."
    shape, example, takes_as_of, tells_health = PackRow, EXAMPLE, False, True

    def find(self, request: Request, public_id: UUID) -> tuple[Any, Row] | None:
        kept = PackVersion.objects.visible_to(request.user).select_related("client")
        version = kept.filter(public_id=public_id).first()
        return version and (version.client, pack_row(version))
