"""The cell that names a client in a file of blocks or logs."""

from __future__ import annotations

from collections.abc import Mapping

from roster.labels import fold
from roster.people.models import Client
from roster.tables.cells import Cell, CellRefused, Parser, required, text


def known_client(clients: Mapping[str, Client], longest_key: int) -> Parser[Client]:
    """A parser of the key of one of `clients`, which are given by their folded keys."""
    parse_key = text(longest_key)

    def parse_client(cell: Cell) -> Client:
        key = parse_key(cell)
        client = clients.get(fold(key)) if key else None
        if client is None:
            raise CellRefused("is the key of no client")
        return client

    return required(parse_client)
