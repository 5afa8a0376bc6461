"""Invented rosters in the database."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

import pytest

from roster.people.models import Coach
from tests.coaching.monitoring.files import load_rows
from tests.plain_twin.reading import read_record
from tests.plain_twin.record import Record
from tests.rosters.generate import FIRST_MONDAY, random_roster

# The Thursday of the tenth week of an invented roster.
THURSDAY = FIRST_MONDAY + timedelta(weeks=9, days=3)

LoadRoster = Callable[..., Record]


@pytest.fixture
def load_roster(coach: Coach) -> LoadRoster:
    """Puts an invented roster into the coach's studio, nothing computed; answers what the plain twin reads of it."""

    def load(seed: int, *, clients: int = 3, weeks: int = 12, **options) -> Record:
        roster = random_roster(seed, clients=clients, weeks=weeks, **options)
        for kind in ("clients", "blocks", "logs"):
            load_rows(kind, getattr(roster, kind), coach)
        return read_record(roster.clients, roster.blocks, roster.logs)

    return load


@pytest.fixture
def thursday() -> date:
    return THURSDAY

