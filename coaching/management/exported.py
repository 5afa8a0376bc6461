"""What the command `export` writes: the rows of which studios."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from coaching.management.studios import Refused
from coaching.monitoring.export import export_rows
from coaching.monitoring.fact_shapes import Row
from roster.labels import fold
from roster.people.models import Client, Studio


def exported_rows(studios: list[Studio], options: Mapping[str, Any], progress: Callable[[int], None]) -> list[Row]:
    rows: list[Row] = []

    def tell(of_studio: int) -> None:
        progress(len(rows) + of_studio)

    for studio in studios:
        rows += export_rows(
            options["table"], studio, as_of=options["as_of"], client_key=options["client"], progress=tell
        )
    return rows


def exported_studios(client_key: str | None, studios: list[Studio]) -> list[Studio]:
    """Those of the studios to write: all, or the one that knows the client."""
    if client_key is None:
        return studios
    clients = Client.objects.filter(studio__in=studios, key_folded=fold(client_key)).select_related("studio")
    found = [client.studio for client in clients]
    if not found:
        where = f"in the studio “{studios[0].name}”" if len(studios) == 1 else "in any studio"
        raise Refused(f"there is no client “{client_key}” {where}")
    if len(found) > 1:
        raise Refused(f"several studios have a client “{client_key}”: say which with --studio")
    return found
