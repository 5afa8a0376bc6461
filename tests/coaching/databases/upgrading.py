"""A process of its own: fills a database as it was before rows had public ids, brings it up to date, and tells of it.

Prints a line for each table: its name, how many rows there were, how many are there, how many different ids they have.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from datetime import date
from typing import Any
from uuid import uuid4

BEFORE = [("blocks", "0002_blocks_of_people"), ("logs", "0002_logs_of_people")]
# More than the migration takes at once.
EXERCISES, SESSIONS = 2_300, 7
TABLES = [("blocks", "Exercise"), ("blocks", "Block"), ("blocks", "PlannedSession"), ("logs", "SessionLog")]


def migrate_to(*nodes: tuple[str, str]) -> None:
    from django.core.management import call_command

    for app, name in nodes:
        call_command("migrate", app, name, verbosity=0)


def models_of_then() -> Any:
    from django.db import connection
    from django.db.migrations.executor import MigrationExecutor

    return MigrationExecutor(connection).loader.project_state(BEFORE).apps


def fill(then: Any) -> None:
    studio = then.get_model("people", "Studio").objects.create(name="North Street", time_zone="Europe/Lisbon")
    lead = then.get_model("people", "Coach").objects.create(email="ana@example.org", studio=studio)
    client = then.get_model("people", "Client").objects.create(
        studio=studio, lead=lead, key="ilse", key_folded="ilse", name="Ilse", joined_on=date(2026, 1, 5)
    )
    exercise = then.get_model("blocks", "Exercise")
    exercise.objects.bulk_create(
        exercise(studio=studio, name=f"Row {number}", name_folded=f"row {number}") for number in range(EXERCISES)
    )
    block = then.get_model("blocks", "Block").objects.create(
        client=client, label="One", label_folded="one", starts_on=date(2026, 3, 2), weeks=SESSIONS
    )
    for number in range(SESSIONS):
        _fill_session(then, client, block, number)


def _fill_session(then: Any, client: Any, block: Any, number: int) -> None:
    then.get_model("blocks", "PlannedSession").objects.create(
        block=block, week=number + 1, label="A", label_folded="a", suggested_on=date(2026, 3, 2 + number)
    )
    submission = then.get_model("logs", "Submission").objects.create(
        client=client, uuid=uuid4(), door="file", payload={}, fingerprint=str(number)
    )
    then.get_model("logs", "SessionLog").objects.create(
        client=client, submission=submission, performed_on=date(2026, 3, 2 + number)
    )


def counts(apps: Any) -> list[int]:
    return [apps.get_model(app, name).objects.count() for app, name in TABLES]


def told(before: list[int]) -> Iterator[str]:
    from django.apps import apps

    for (app, name), count in zip(TABLES, before, strict=True):
        ids = list(apps.get_model(app, name).objects.values_list("public_id", flat=True))
        yield f"{name} {count} {len(ids)} {len({one for one in ids if one})}"


def main() -> None:
    from django.core.management import call_command

    migrate_to(*BEFORE)
    then = models_of_then()
    fill(then)
    before = counts(then)
    call_command("migrate", verbosity=0)
    print("\n".join(told(before)))
    migrate_to(*reversed(BEFORE))
    print("back", *counts(then))
    call_command("migrate", verbosity=0)
    print("\n".join(told(before)))


if __name__ == "__main__":
    os.environ["DJANGO_SETTINGS_MODULE"] = "coaching.settings"
    import django

    django.setup()
    main()
