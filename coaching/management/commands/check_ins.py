from __future__ import annotations

from typing import Any

from django.core.management.base import CommandParser
from django.utils import timezone

from coaching.management.days import parse_day
from coaching.management.help_text import CommandWithExamples
from coaching.management.progress import TerminalProgress
from coaching.management.studios import add_studio_argument, chosen_studio
from coaching.monitoring.refresh import reassess
from roster.people.models import Client, Studio


class Command(CommandWithExamples):
    help = """Say from which day on a studio has check-in calls, or that it has none.

No call is due before that day, however long somebody has been with the studio.

  python manage.py check_ins --from 2026-05-01
  python manage.py check_ins --off
"""

    def add_arguments(self, parser: CommandParser) -> None:
        which = parser.add_mutually_exclusive_group(required=True)
        which.add_argument("--from", dest="begins", metavar="DAY", type=parse_day, help="the first day, as 2026-05-01")
        which.add_argument("--off", action="store_true", help="none from now on")
        add_studio_argument(parser)

    def handle(self, *args: Any, **options: Any) -> None:
        studio = chosen_studio(options["studio"])
        begins = options["begins"]
        Studio.objects.filter(pk=studio.pk).update(check_ins_from=begins)
        with TerminalProgress(self.stderr) as progress:
            counting = progress.counting("clients computed anew")
            reassess(Client.objects.filter(studio=studio), now=timezone.now(), progress=counting)
        told = f"has check-in calls from {begins} on" if begins else "has no check-in calls"
        self.stderr.write(f"The studio “{studio.name}” {told}.", str)
