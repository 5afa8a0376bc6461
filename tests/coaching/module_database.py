"""A record that the tests of a whole module read, loaded once and gone afterwards.

Such tests bear the mark `django_db`: without it no database is made for them, and they would reach the real one.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from django.db import transaction
from pytest_django import DjangoDbBlocker


@contextmanager
def forgotten_afterwards(blocker: DjangoDbBlocker) -> Iterator[None]:
    with blocker.unblock(), transaction.atomic():
        yield
        transaction.set_rollback(True)
