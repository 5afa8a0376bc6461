"""A process of its own: reads all of the interface for a client whose facts are stored, and names what that loaded.

Prints a line for each operation: its path, its status, how many rows it told, and the packages that are loaded by then.
"""

from __future__ import annotations

import os
import sys

HEAVY = ("numpy", "openpyxl", "pandas", "plotly", "scipy")


def main() -> None:
    from django.core.management import call_command

    from tests.coaching.api.programs import Program
    from tests.coaching.api.test_lists import fill
    from tests.coaching.factories import ClientFactory, CoachFactory

    call_command("migrate", verbosity=0)
    coach = CoachFactory()
    fill(ClientFactory(lead=coach))
    program = Program(coach)
    for path in _reads():
        answer = program.get(_with_an_id(program, path))
        loaded = [name for name in HEAVY if name in sys.modules]
        print(path, answer.status_code, len(answer.json().get("results", [1])), *loaded)
    program.get("weeks/?as_of=2026-04-14")
    print("an earlier day", *(name for name in HEAVY if name in sys.modules))


def _reads() -> list[str]:
    from coaching.api.description import describe

    return [path for path, of_path in describe()["paths"].items() if "get" in of_path]


def _with_an_id(program: object, path: str) -> str:
    if "{" not in path:
        return path
    rows = program.get(path.split("{")[0]).json()["results"]  # type: ignore[attr-defined]
    return path.replace("{public_id}", rows[0]["id"])


if __name__ == "__main__":
    os.environ["DJANGO_SETTINGS_MODULE"] = "coaching.settings"
    import django
    import time_machine

    time_machine.travel("2026-04-15T07:00:00Z", tick=True).start()
    django.setup()
    from django.test.utils import setup_test_environment

    setup_test_environment()
    main()
