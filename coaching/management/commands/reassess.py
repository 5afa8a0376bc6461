"""reassess: facts and findings of everybody, as at a day."""

from __future__ import annotations

from typing import Any

from django.core.management.base import CommandParser
from django.utils import timezone

from coaching.management.days import add_as_of_argument
from coaching.management.help_text import CommandWithExamples
from coaching.management.progress import TerminalProgress
from coaching.management.studios import add_studio_argument, chosen_studios
from coaching.monitoring.refresh import reassess
from roster.people.models import Client


class Command(CommandWithExamples):
    help = """Compute facts and findings of every client anew, as at a day, and store them.

Without --as-of each client stands as at their own today. Going back to an earlier day is fine, and coming forward too.

  python manage.py reassess
  python manage.py reassess --as-of 2026-04-15
"""

    def add_arguments(self, parser: CommandParser) -> None:
        add_as_of_argument(parser)
        add_studio_argument(parser)

    def handle(self, *args: Any, **options: Any) -> None:
        studios = chosen_studios(options["studio"])
        with TerminalProgress(self.stderr) as progress:
            done = reassess(
                Client.objects.filter(studio__in=studios),
                now=timezone.now(),
                as_of=options["as_of"],
                progress=progress.counting("clients computed anew"),
            )
        self.stderr.write(f"{done} clients stand as at {options['as_of'] or 'their own today'}.", str)
