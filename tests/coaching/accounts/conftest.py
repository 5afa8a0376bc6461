from __future__ import annotations

import pytest

from roster.people.models import Coach
from tests.coaching.factories import CoachFactory

PASSWORD = "a kettle of tea"


@pytest.fixture
def vera(db: None) -> Coach:
    vera = CoachFactory(email="vera@example.org")
    vera.set_password(PASSWORD)
    vera.save()
    return vera
