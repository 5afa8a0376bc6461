"""One nursery for all files, and one record that every mutant is loaded into."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from pytest_django import DjangoDbBlocker

from roster.people.models import Coach
from tests.coaching.factories import CoachFactory
from tests.coaching.module_database import forgotten_afterwards
from tests.faults.campaign import filled_record, nursery_of
from tests.faults.nursery import Nursery
from tests.faults.trial import Record


@pytest.fixture(scope="session")
def nursery() -> Iterator[Nursery]:
    with nursery_of() as nursery:
        yield nursery


@pytest.fixture(scope="module")
def record(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[Record]:
    with forgotten_afterwards(django_db_blocker):
        yield filled_record(CoachFactory(role=Coach.Role.OWNER))
