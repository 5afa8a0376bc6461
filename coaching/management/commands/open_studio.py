from __future__ import annotations

import os
import sys
from getpass import getpass
from typing import Any

from django.core.exceptions import ValidationError
from django.core.management.base import CommandParser

from coaching.management.help_text import CommandWithExamples
from coaching.management.studios import Refused
from roster.people import actions


class Command(CommandWithExamples):
    help = """Open a studio and its owner's way in.

The password is asked for, or taken from the variable OWNER_PASSWORD.

  python manage.py open_studio "North Street" --owner ana@example.org
  OWNER_PASSWORD=... python manage.py open_studio "North Street" --owner ana@example.org --time-zone Europe/Lisbon
"""

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("name", metavar="NAME", help="of the studio")
        parser.add_argument("--owner", metavar="EMAIL", required=True, help="with which the owner signs in")
        parser.add_argument("--time-zone", metavar="ZONE", default="UTC", help="such as Europe/Lisbon; else UTC")

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            studio = actions.open_studio(
                name=options["name"],
                owner_email=options["owner"],
                password=os.environ.get("OWNER_PASSWORD") or _asked_password(),
                time_zone=options["time_zone"],
            )
        except ValidationError as error:
            raise Refused(" ".join(error.messages)) from None
        self.stderr.write(f"The studio “{studio.name}” is open; {options['owner']} signs in as its owner.", str)


def _asked_password() -> str:
    if not sys.stdin.isatty():
        raise Refused("no password: set OWNER_PASSWORD, or run this in a terminal to be asked for it")
    password = getpass("Password: ")
    if password != getpass("Once more: "):
        raise Refused("the two passwords differ")
    return password
