"""export: a table of the record's meaning, for other programs."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import CommandParser

from coaching.management.days import add_as_of_argument
from coaching.management.exported import exported_rows, exported_studios
from coaching.management.help_text import CommandWithExamples
from coaching.management.progress import TerminalProgress
from coaching.management.studios import Refused, add_studio_argument, chosen_studios
from coaching.monitoring.export_formats import FORMATS
from coaching.monitoring.fact_shapes import COLUMNS


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
        studios = exported_studios(options["client"], chosen_studios(options["studio"]))
        with TerminalProgress(self.stderr) as progress:
            rows = exported_rows(studios, options, progress.counting("rows computed"))
        text = FORMATS[options["format"]](COLUMNS[options["table"]], rows)
        if options["out"] is None:
            self.stdout.write(text, ending="")
            return
        try:
            options["out"].write_bytes(text.encode())
        except OSError as error:
            raise Refused(f"{options['out']} can't be written: {error.strerror}") from None
        self.stderr.write(f"{options['out']}: {len(rows)} rows.", str)
