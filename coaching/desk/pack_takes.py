"""The documents that a pack's page offers."""

from __future__ import annotations

from dataclasses import dataclass

from django.urls import reverse

from coaching.check_ins.content import Paper
from coaching.check_ins.documents import Kind
from coaching.desk.pack_asked import PackAsked


@dataclass(frozen=True, slots=True)
class Take:
    name: str
    address: str


def takes_of(asked: PackAsked) -> list[Take]:
    """Workbook and table hold all there is, and are the coach's."""
    same = f"{asked.days}&version={asked.of}&paper={asked.paper.value}"
    papers = [
        Take(f"PDF, {name}", _address(asked, Kind.PDF, f"{same}&size={size}"))
        for name, size in (("A4", "a4"), ("Letter", "letter"))
    ]
    if asked.paper is Paper.THEIRS:
        return papers
    return [*papers, Take("XLSX", _address(asked, Kind.WORKBOOK, same)), Take("CSV", _address(asked, Kind.TABLE, same))]


def _address(asked: PackAsked, kind: Kind, query: str) -> str:
    return f"{reverse('pack_document', args=[asked.client.public_id, kind.value])}?{query}"
