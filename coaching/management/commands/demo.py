from __future__ import annotations

from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import CommandParser
from django.utils import timezone

from coaching.accounts.rules import MAIL_STAYS_HERE
from coaching.demo.cast import EVERYBODY, OWNER, STUDIO_NAME, STUDIO_ZONE
from coaching.demo.making import DemoRefused, make_demo
from coaching.demo.memory import DemoMemory
from coaching.demo.serving import find_port_fault, serve
from coaching.management.help_text import CommandWithExamples
from coaching.management.progress import TerminalProgress
from coaching.management.studios import Refused
from roster.people.zones import local_date


class Command(CommandWithExamples):
    help = """Make a studio of invented people, and serve its desk from this machine.

Makes the database, the people and their months of training up to today, and goes on serving until Ctrl-C. Run again,
it serves what is there; on a later day it adds what has happened since. MUSTER_HOME is where all of it is kept.

  python manage.py demo
  python manage.py demo --port 8080
  MUSTER_HOME=~/large python manage.py demo --clients 300 --no-serve
"""

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--host", default="127.0.0.1", help="where to listen; else 127.0.0.1, this machine alone")
        parser.add_argument("--port", type=int, default=8000, help="else 8000")
        parser.add_argument("--no-serve", action="store_true", help="make the demo, and stop")
        parser.add_argument("--clients", type=int, default=36, help="how many people; else 36")
        parser.add_argument("--weeks", type=int, default=26, help="how many weeks of training; else 26")
        parser.add_argument("--seed", type=int, default=1, help="for other people of the same kind")

    def handle(self, *args: Any, **options: Any) -> None:
        host, port = options["host"], options["port"]
        if not options["no_serve"] and (fault := find_port_fault(host, port)):
            raise Refused(fault)
        self.progress = TerminalProgress(self.stderr)
        call_command("migrate", verbosity=0, interactive=False)
        today = local_date(timezone.now(), STUDIO_ZONE)
        wanted = DemoMemory(options["seed"], options["clients"], options["weeks"], staged_for=today)
        try:
            with self.progress as progress:
                make_demo(wanted, settings.HOME_DIR / "demo", today=today, say=self._say, progress=progress)
        except (DemoRefused, ValueError, OverflowError) as error:
            raise Refused(str(error)) from None
        self._say_how_to_sign_in()
        if not options["no_serve"]:
            serve(host, port, self._say)

    def _say_how_to_sign_in(self) -> None:
        self._say(f"{STUDIO_NAME} is ready. Sign in as")
        for person in EVERYBODY:
            place = "" if person.studio == OWNER.studio else f" of {person.studio}, another studio"
            self._say(f"  {person.email:28} {person.password:24} {person.role.label}{place}")
        if settings.EMAIL_BACKEND == MAIL_STAYS_HERE:
            self._say(f"Mail, such as a link for a new password, is not sent but kept in {settings.EMAIL_FILE_PATH}")

    def _say(self, line: str) -> None:
        self.progress.clear()
        self.stderr.write(line, str)
