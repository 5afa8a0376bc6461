"""The documents of packs: what was kept of the period where something was, else what the record says now."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime

from coaching.check_ins import documents
from coaching.check_ins.composing import compose_many
from coaching.check_ins.content import Pack, Paper, Period
from coaching.check_ins.documents import Kind
from coaching.check_ins.documents.papers import Size
from coaching.check_ins.models import PackVersion
from roster.people.models import Client

# A document's name and its bytes.
Document = tuple[str, bytes]


def packs_to_give(clients: Iterable[Client], period: Period, now: datetime) -> Iterator[tuple[Client, Pack]]:
    by_id = {client.public_id: client for client in clients}
    kept = _newest_versions(by_id.values(), period)
    for client in by_id.values():
        if client.pk in kept:
            yield client, kept[client.pk].pack
    rest = [client for client in by_id.values() if client.pk not in kept]
    for pack in compose_many(rest, period, now=now):
        yield by_id[pack.client_id], pack


def _newest_versions(clients: Iterable[Client], period: Period) -> dict[int, PackVersion]:
    kept = PackVersion.objects.filter(client__in=clients, first=period.first, last=period.last)
    return {version.client_id: version for version in kept.order_by("number")}


def documents_of(pack: Pack, papers: Sequence[Paper], kinds: Sequence[Kind], size: Size) -> Iterator[Document]:
    """The workbook and the table are the coach's: they hold all there is."""
    if Kind.PDF in kinds:
        for paper in papers:
            yield documents.file_name_of(pack, paper, Kind.PDF), documents.pdf_of(pack, paper, size)
    if Kind.WORKBOOK in kinds:
        yield documents.file_name_of(pack, Paper.MINE, Kind.WORKBOOK), documents.workbook_of(pack)
    if Kind.TABLE in kinds:
        yield documents.file_name_of(pack, Paper.MINE, Kind.TABLE), documents.csv_of(pack)
