from __future__ import annotations

from typing import Any
from uuid import UUID

from django.db.models import QuerySet
from rest_framework.request import Request

from coaching.api.answering import OneOf, RecordList
from coaching.api.fields import RowOf, choice, count, day, ident, text
from coaching.api.parameters import Filters, any_of, words_in
from coaching.monitoring.fact_pages import Wanted
from coaching.monitoring.fact_shapes import Row
from roster.mass import MassUnit
from roster.people.models import Client


class ClientRow(RowOf):
    id = ident("The client's id.")
    client = text("The studio's own key for the client.")
    name = text("Their name.")
    email = text("Their address.", null=True)
    phone = text("Their number.", null=True)
    time_zone = text("Their IANA time zone; their days turn in it.")
    unit = choice(MassUnit.choices, "In which they lift.")
    joined_on = day("Nothing is due before.")
    state = choice(Client.State.choices, "Whether they train.")
    ended_on = day("Since when they no longer do.", null=True)
    sends = choice(Client.Sends.choices, "How they send logs.")
    usual_days = text("On which they train, such as mon wed fri.", null=True)
    minutes = count("That a session may take.", null=True)
    goal = text("In their own words.", null=True)
    goal_by = day("By when.", null=True)
    next_call_on = day("When the next check-in call is, if that was set by hand.", null=True)


EXAMPLE: Row = {
    "id": "6f0c8a52-3a8e-4b0e-9a55-0d2f6c1c7e11", "client": "ada.finn", "name": "Ada Finn",
    "email": "ada.finn@example.org", "phone": None, "time_zone": "Europe/Amsterdam", "unit": "kg",
    "joined_on": "2026-02-23", "state": "active", "ended_on": None, "sends": "each", "usual_days": None,
    "minutes": 45, "goal": "carry both bags up four flights", "goal_by": None, "next_call_on": None,
}  # fmt: skip


class ClientFilters(Filters):
    state = any_of("state", Client.State.choices, "Whether they train.")
    q = words_in("name", "Words that name, key or address hold.")


def client_row(client: Client) -> Row:
    same = (
        "name", "email", "phone", "time_zone", "unit", "joined_on", "state", "ended_on", "sends", "usual_days",
        "minutes", "goal", "goal_by", "next_call_on",
    )
    return {"id": client.public_id, "client": client.key, **{name: getattr(client, name) for name in same}}


class Clients(RecordList):
    name, summary = "clients", "Clients whom you may see, as they stand now."
    shape, example, filters = ClientRow, EXAMPLE, ClientFilters

    def queryset(self, wanted: Wanted) -> QuerySet[Client]:
        return wanted.clients

    def rows(self, page: Any) -> list[Row]:
        return [client_row(client) for client in page]


class OneClient(OneOf):
    name, summary = "clients", "One client, as they stand now."
    shape, example, takes_as_of = ClientRow, EXAMPLE, False

    def find(self, request: Request, public_id: UUID) -> tuple[None, Row] | None:
        client = Client.objects.visible_to(request.user).filter(public_id=public_id).first()
        return client and (None, client_row(client))
