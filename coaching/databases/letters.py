"""An order of letters that is the same on every database: by their numbers, as Python sorts."""

from __future__ import annotations

from django.db import connection
from django.db.models.functions import Collate

_BY_NUMBER = {"sqlite": "BINARY", "postgresql": "C"}


def by_letters(path: str) -> Collate:
    """The text that `path` leads to, to put rows in order by or to compare with; a server would ask its dictionary."""
    return Collate(path, _BY_NUMBER[connection.vendor])
