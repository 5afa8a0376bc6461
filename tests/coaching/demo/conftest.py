from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest
from pytest_django import DjangoDbBlocker

from coaching.demo.making import make_demo
from coaching.demo.memory import DemoMemory
from tests.coaching.module_database import forgotten_afterwards

TODAY = date(2026, 4, 15)
SMALL = DemoMemory(1, 8, 12, staged_for=TODAY)


@pytest.fixture(scope="module")
def small_demo(
    django_db_setup: None, django_db_blocker: DjangoDbBlocker, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[list[str]]:
    """What making it said."""
    said: list[str] = []
    with forgotten_afterwards(django_db_blocker):
        make_demo(SMALL, tmp_path_factory.mktemp("demo"), today=TODAY, say=said.append)
        yield said
