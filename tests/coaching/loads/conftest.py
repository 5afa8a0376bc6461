from __future__ import annotations

import pytest

from roster.people.models import Coach
from tests.coaching.loads.studios import FIRST, PEOPLE, PLAN, load


@pytest.fixture
def trained(coach: Coach) -> Coach:
    """Two people, a block, and the log of its first week."""
    load("clients", PEOPLE, coach)
    load("blocks", PLAN, coach)
    load("logs", FIRST, coach)
    return coach
