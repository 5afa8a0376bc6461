"""Which studio a command is about, and how a command refuses what it can't do."""

from __future__ import annotations

from django.core.management.base import CommandError, CommandParser
from django.db.utils import OperationalError, ProgrammingError

from roster.labels import order_of_names
from roster.people.models import Coach, Studio


class Refused(CommandError):
    """Bad usage or bad input: one clear line, exit status 2. The name is what the terminal shows before the line."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason, returncode=2)


def add_studio_argument(parser: CommandParser) -> None:
    parser.add_argument("--studio", metavar="NAME", help="whose record; needed only when there are several studios")


def all_studios() -> list[Studio]:
    try:
        return sorted(Studio.objects.all(), key=lambda studio: order_of_names(studio.name))
    except (OperationalError, ProgrammingError):
        raise Refused("the database has no tables yet: run “python manage.py migrate” first") from None


def chosen_studios(name: str | None) -> list[Studio]:
    """The studio of that name; without a name every studio."""
    return all_studios() if name is None else [chosen_studio(name)]


def chosen_studio(name: str | None) -> Studio:
    studios = all_studios()
    if not studios:
        raise Refused("there is no studio yet: open one with “python manage.py open_studio NAME --owner EMAIL”")
    if name is None and len(studios) == 1:
        return studios[0]
    names = ", ".join(f"“{studio.name}”" for studio in studios)
    if name is None:
        raise Refused(f"there are several studios: say which with --studio, one of {names}")
    found = [studio for studio in studios if studio.name.casefold() == name.strip().casefold()]
    if not found:
        raise Refused(f"there is no studio “{name}”, only {names}")
    return found[0]


def owner_of(studio: Studio) -> Coach:
    """In whose name a command acts."""
    owner = studio.coaches.filter(role=Coach.Role.OWNER, is_active=True).order_by("pk").first()
    if owner is None:
        raise Refused(f"the studio “{studio.name}” has no owner who may sign in")
    return owner
