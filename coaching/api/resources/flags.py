from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from typing import Any
from uuid import UUID

from django.utils import timezone
from rest_framework.request import Request

from coaching.api.answering import FactList, OneOf
from coaching.api.fields import RowOf, choice, client_members, day, ident, rows, text, texts
from coaching.api.parameters import ClientFilters, any_of, pile, pile_of
from coaching.api.parameters import day as on_day
from coaching.api.questions import read_as_of
from coaching.monitoring.fact_pages import Person, Placed, Wanted, read_page
from coaching.monitoring.fact_shapes import Row, flag_row
from coaching.monitoring.fact_sources import FLAGS, FLAGS_CLOSED_TOO
from coaching.monitoring.finding_ids import finding_id
from coaching.monitoring.models import Flag, Kind, Urgency
from roster.people.models import Client, Coach

# More than any client has at once.
_ALL_OF_THEM = 1_000_000


class EvidenceRow(RowOf):
    cells = texts("One text for each of the columns.")


class FlagRow(RowOf):
    id = ident("The finding's id: the same on every day and for every episode of it.")
    client_id, client = client_members()
    kind = choice(Kind.choices, "What it is about.")
    subject = text("The exercise, the region, or which rule of turnout.", null=True)
    exercise_id = ident("The exercise's id.", null=True)
    urgency = choice(Urgency.choices, "How soon.")
    pile = text("The pile of the Morning list that it lies on.")
    opened_on = day("The first day from which it has held on every day since.")
    sentence = text("In plain words, with its figures.")
    remark = text("A second line.", null=True)
    rule = text("The rule, with its numbers.")
    clears = text("What would clear it.")
    options = texts("What a coach might do.")
    seen_on = day("When a coach marked it seen.", null=True)
    put_aside_until = day("Until when it is put aside.", null=True)
    closed_on = day("When a coach closed it; a finding that is closed is in no list.", null=True)
    evidence_columns = texts("Of the rows that it came from.")
    evidence = rows(EvidenceRow, "The rows that it came from.")


EXAMPLE: Row = {
    "id": "c1d2f0aa-7f2e-5b0d-8a4f-90c4c6a1e7b5", "client_id": "6f0c8a52-3a8e-4b0e-9a55-0d2f6c1c7e11",
    "client": "ada.finn", "kind": "ready", "subject": "Goblet squat",
    "exercise_id": "b39e0e0f-54b9-4c35-8b8e-0c3cf2f2a4d0", "urgency": "good", "pile": "plan", "opened_on": "2026-03-30",
    "sentence": "Goblet squat: the last stage of its round met.", "remark": None,
    "rule": "Every exposure of the round's last two stages met.", "clears": "The next load.", "options": [],
    "seen_on": None, "put_aside_until": None, "closed_on": None, "evidence_columns": ["Day", "Asked", "Done"],
    "evidence": [{"cells": ["23 Mar", "4 x 10", "10-10-10-10"]}],
}


class FlagFilters(ClientFilters):
    kind = any_of("kind", Kind.choices, "What it is about.")
    urgency = any_of("urgency", Urgency.choices, "How soon.")
    pile = pile("kind", "The pile of the Morning list that it lies on.")
    opened_from = on_day("opened_on", "gte", "Opened on this day or later.")
    opened_to = on_day("opened_on", "lte", "Opened on this day or earlier.")


def finding_row(person: Person, flag: Flag) -> Row:
    same = ("remark", "rule", "clears", "options", "seen_on", "put_aside_until", "closed_on")
    evidence = flag.evidence or {}
    return {
        **flag_row(flag, person.key), "id": finding_id(person.public_id, flag), "client_id": person.public_id,
        "exercise_id": flag.exercise and flag.exercise.public_id, "pile": pile_of(flag),
        **{name: getattr(flag, name) for name in same},
        "evidence_columns": evidence.get("columns", []),
        "evidence": [{"cells": [str(cell) for cell in cells]} for cells in evidence.get("rows", [])],
    }


def find_finding(coach: Coach, wanted_id: UUID, *, as_of: date | None, now: datetime) -> Placed | None:
    """The finding of that name as at a day, closed or not, about somebody whom the coach may see."""
    clients = Client.objects.visible_to(coach)
    known = _client_known_for(coach, wanted_id)
    # Otherwise it may have come up since anything was stored.
    among = clients if known is None else clients.filter(pk=known)
    wanted = Wanted(clients=among, studio=coach.studio, as_of=as_of, now=now, size=_ALL_OF_THEM)
    page = read_page(FLAGS_CLOSED_TOO, wanted)
    return next((one for one in page if finding_id(one.person.public_id, one.fact) == wanted_id), None)


def _client_known_for(coach: Coach, wanted_id: UUID) -> int | None:
    known = Flag.objects.visible_to(coach).select_related("client").only("client__public_id", "kind", "subject")
    found = (flag for flag in known if finding_id(flag.client.public_id, flag) == wanted_id)
    return next((flag.client_id for flag in found), None)


class Flags(FactList):
    name = "flags"
    summary = "Findings that hold and that no coach has closed, seen and put aside ones too: client after client."
    shape, example, filters, source, tells_health = FlagRow, EXAMPLE, FlagFilters, FLAGS, True

    def rows(self, page: Sequence[Placed]) -> list[Row]:
        return [finding_row(person, fact) for person, fact in page]


class OneFlag(OneOf):
    name, summary = "flags", "One finding that holds, closed or not."
    shape, example, tells_health = FlagRow, EXAMPLE, True

    def find(self, request: Request, public_id: UUID) -> tuple[Person, Row] | None:
        found = find_finding(request.user, public_id, as_of=read_as_of(request), now=timezone.now())
        return found and (found.person, finding_row(*found))


def find_for_act(coach: Coach, wanted_id: UUID, now: datetime) -> tuple[Client, Placed] | None:
    """The same as it stands today, and whom it is about, if the coach may change them."""
    found = find_finding(coach, wanted_id, as_of=None, now=now)
    client: Any = found and Client.objects.changeable_by(coach).filter(pk=found.person.pk).first()
    return (client, found) if found and client else None
