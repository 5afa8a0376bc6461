"""export: a table of the record's meaning, for other programs."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import CommandParser

from coaching.management.days import add_as_of_argument
from coaching.management.help_text import CommandWithExamples
from coaching.management.studios import Refused, add_studio_argument, chosen_studios
from coaching.monitoring.export import export_rows
from coaching.monitoring.export_formats import FORMATS
from coaching.monitoring.fact_shapes import COLUMNS
from roster.labels import fold
from roster.people.models import Client, Studio


class Command(CommandWithExamples):
    help = """Write sessions, weeks, exposures or flags as CSV or JSON, computed from the record as at a day.

  python manage.py export flags
  python manage.py export weeks --as-of 2026-04-15 --client oona.valk --format json
  python manage.py export sessions --out sessions.csv
"""

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("table", choices=list(COLUMNS))
        add_as_of_argument(parser)
        parser.add_argument("--client", metavar="KEY", help="only this client, by the studio's own key")
        parser.add_argument("--format", choices=list(FORMATS), default="csv")
        parser.add_argument("--out", metavar="FILE", type=Path, help="a file to write to; else standard output")
        add_studio_argument(parser)

    def handle(self, *args: Any, **options: Any) -> None:
        studios = _studios_of(options["client"], chosen_studios(options["studio"]))
        rows = [
            row
            for studio in studios
            for row in export_rows(options["table"], studio, as_of=options["as_of"], client_key=options["client"])
        ]
        text = FORMATS[options["format"]](COLUMNS[options["table"]], rows)
        if options["out"] is None:
            self.stdout.write(text, ending="")
            return
        try:
            options["out"].write_bytes(text.encode())
        except OSError as error:
            raise Refused(f"{options['out']} can't be written: {error.strerror}") from None
        self.stderr.write(f"{options['out']}: {len(rows)} rows.", str)


def _studios_of(client_key: str | None, studios: list[Studio]) -> list[Studio]:
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
