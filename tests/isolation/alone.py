"""The world without a test around it: a database of its own in memory, gone afterwards, at the tests' Wednesday."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import django
import time_machine

if TYPE_CHECKING:
    from tests.isolation.world import World


@contextmanager
def in_a_world() -> Iterator[World]:
    os.environ.pop("DATABASE_URL", None)
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.settings"
    django.setup()
    from django.db import connection
    from django.test.utils import setup_test_environment

    from tests.coaching.factories import WEDNESDAY
    from tests.isolation.world import build_world

    setup_test_environment()
    connection.creation.create_test_db(verbosity=0)
    with time_machine.travel(f"{WEDNESDAY.isoformat()}T07:00:00Z", tick=False):
        yield build_world()
