"""check_in_pack: what a check-in call needs, as documents in a folder."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import CommandParser

from coaching.check_ins.asking import Asked
from coaching.check_ins.content import Paper
from coaching.check_ins.documents import Kind
from coaching.check_ins.documents.papers import SIZES
from coaching.management.help_text import CommandWithExamples
from coaching.management.pack_folder import PackFolder
from coaching.management.packs_wanted import wanted_packs
from coaching.management.progress import TerminalProgress
from coaching.management.studios import Refused, add_studio_argument

# Unless others are asked for.
USUAL_KINDS = [Kind.PDF, Kind.WORKBOOK]


class Command(CommandWithExamples):
    help = """Write the check-in packs of a period into a folder: two papers as PDF, and a workbook, for each client.

The period is a month, a block of the client, or any two days; else the last month that is over. Where a version was
kept of it at the desk, that one is written.

  python manage.py check_in_pack --client oona.valk --month 2026-03 --out packs
  python manage.py check_in_pack --all --out packs --size letter --paper theirs --form pdf
"""

    def add_arguments(self, parser: CommandParser) -> None:
        sizes, papers, kinds = [*SIZES], [paper.value for paper in Paper], [kind.value for kind in Kind]
        whose = parser.add_mutually_exclusive_group(required=True)
        whose.add_argument("--client", metavar="KEY", help="this client, by the studio's own key")
        whose.add_argument("--all", action="store_true", help="every active client")
        parser.add_argument("--month", default="", metavar="MONTH", help="such as 2026-03")
        parser.add_argument("--block", default="", metavar="NAME", help="a block of that client, by its name")
        parser.add_argument("--from", dest="first", default="", metavar="DAY", help="such as 2026-03-15, with --to")
        parser.add_argument("--to", dest="last", default="", metavar="DAY", help="the last day of the period")
        parser.add_argument("--out", metavar="DIR", type=Path, required=True, help="a folder; made if not there")
        parser.add_argument("--size", choices=sizes, default="a4", help="of the paper; else a4")
        parser.add_argument("--paper", choices=papers, help="only this one of the two papers")
        parser.add_argument("--form", choices=kinds, action="append", help="only this; may be given again")
        add_studio_argument(parser)

    def handle(self, *args: Any, **options: Any) -> None:
        asked = Asked(options["month"], options["block"], options["first"], options["last"])
        papers = [Paper(options["paper"])] if options["paper"] else list(Paper)
        kinds = [Kind(form) for form in options["form"]] if options["form"] else USUAL_KINDS
        wanted = wanted_packs(options, asked)
        folder = PackFolder(options["out"], papers, kinds, options["size"])
        with TerminalProgress(self.stderr) as progress:
            nothing = folder.write_all(wanted, progress)
        if options["client"] and nothing:
            raise Refused(nothing[0])
        for line in nothing:
            self.stderr.write(line, str)
        self.stderr.write(f"{folder.path}: {folder.packs} packs, {folder.documents} documents.", str)
