from __future__ import annotations

from datetime import date

import pytest

from coaching.simulation import SimulatedRoster, simulate

STAGED_FOR = date(2026, 4, 15)


@pytest.fixture(scope="session")
def roster() -> SimulatedRoster:
    return simulate(1, until=STAGED_FOR)
