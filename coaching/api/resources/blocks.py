from __future__ import annotations

from typing import Any
from uuid import UUID

from django.db.models import QuerySet
from rest_framework.request import Request

from coaching.api.answering import OneOf, RecordList
from coaching.api.fields import RowOf, client_members, count, day, ident, instant, text
from coaching.api.parameters import ClientFilters
from coaching.api.parameters import day as on_day
from coaching.monitoring.fact_pages import Wanted
from coaching.monitoring.fact_shapes import Row
from roster.blocks.models import Block


class BlockRow(RowOf):
    id = ident("The block's id.")
    client_id, client = client_members()
    block = text("Its label.")
    starts_on = day("A Monday.")
    ends_on = day("Its last Sunday.")
    weeks = count("How many weeks it has.")
    progression = text("What its stages follow, if it names one.", null=True)
    published_at = instant("Since when it is asked of the client.")


EXAMPLE: Row = {
    "id": "0d6f7f0a-6f0a-4f3c-8a4b-7b7a2b3f5c21", "client_id": "6f0c8a52-3a8e-4b0e-9a55-0d2f6c1c7e11",
    "client": "ada.finn", "block": "First steps", "starts_on": "2026-03-02", "ends_on": "2026-04-05", "weeks": 5,
    "progression": None, "published_at": "2026-02-27T16:20:00Z",
}


class BlockFilters(ClientFilters):
    starts_from = on_day("starts_on", "gte", "Begun on this day or later.")
    starts_to = on_day("starts_on", "lte", "Begun on this day or earlier.")


def block_row(block: Block) -> Row:
    return {
        "id": block.public_id, "client_id": block.client.public_id, "client": block.client.key, "block": block.label,
        "starts_on": block.starts_on, "ends_on": block.ends_on, "weeks": block.weeks,
        "progression": block.progression and block.progression.name, "published_at": block.published_at,
    }


class Blocks(RecordList):
    name, summary = "blocks", "Published blocks: client after client, each one's by their first day."
    shape, example, filters = BlockRow, EXAMPLE, BlockFilters
    order = ("client__public_id", "starts_on", "public_id")

    def queryset(self, wanted: Wanted) -> QuerySet[Block]:
        published = Block.objects.published().filter(wanted.query, client__in=wanted.clients)
        return published.select_related("client", "progression")

    def rows(self, page: Any) -> list[Row]:
        return [block_row(block) for block in page]


class OneBlock(OneOf):
    name, summary = "blocks", "One published block."
    shape, example, takes_as_of = BlockRow, EXAMPLE, False

    def find(self, request: Request, public_id: UUID) -> tuple[None, Row] | None:
        published = Block.objects.visible_to(request.user).published().select_related("client", "progression")
        block = published.filter(public_id=public_id).first()
        return block and (None, block_row(block))
