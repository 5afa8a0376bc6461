from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import CommandParser
from django.utils import timezone

from coaching.management.days import parse_day
from coaching.management.help_text import CommandWithExamples
from coaching.management.progress import TerminalProgress
from coaching.management.studios import Refused
from coaching.simulation import read_mix, simulate, write


class Command(CommandWithExamples):
    help = """Invent a roster and its months of training, from a seed.

Writes clients.csv, blocks.csv and logs.csv, which the loaders read, and truth.csv: which client was made to do what,
and which finding should hold from when until when. The same seed and days give the same files.

  python manage.py simulate_roster --out roster/
  python manage.py simulate_roster --clients 300 --weeks 52 --seed 4 --until 2026-04-15 --out roster/
  python manage.py simulate_roster --mix "silent=4, ready=0" --out roster/
  python manage.py simulate_roster --mix "none, stall_act=36" --out roster/
"""

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--seed", type=int, default=1, help="for another roster of the same kind")
        parser.add_argument("--clients", type=int, default=36, help="how many people; else 36")
        parser.add_argument("--weeks", type=int, default=26, help="how many weeks back the plans go; else 26")
        parser.add_argument("--until", type=parse_day, default=None, metavar="DAY", help="the last day; else today")
        parser.add_argument("--mix", default="", help="clients of 36 for each part, such as silent=3; none for nobody")
        parser.add_argument("--out", type=Path, required=True, metavar="DIR", help="where the files go")

    def handle(self, *args: Any, **options: Any) -> None:
        until = options["until"] or timezone.now().date()
        size = options["clients"], options["weeks"]
        try:
            mix = read_mix(options["mix"])
            with TerminalProgress(self.stderr) as progress:
                counting = progress.counting("clients invented")
                roster = simulate(options["seed"], *size, until=until, mix=mix, progress=counting)
            write(roster, options["out"])
        except (ValueError, OverflowError, OSError) as error:
            raise Refused(str(error)) from None
        told = f"{len(roster.clients)} clients, {len(roster.blocks)} planned exercises, {len(roster.logs)} logged sets"
        self.stderr.write(f"{options['out']}: {told}, {len(roster.truth)} truths.", str)
