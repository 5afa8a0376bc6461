from __future__ import annotations

import pytest

from coaching.monitoring.models import Flag, Kind, Urgency
from roster.people.models import Client, Coach
from tests.coaching.api.programs import Program
from tests.coaching.factories import ClientStateFactory, FlagFactory


@pytest.fixture
def program(coach: Coach) -> Program:
    return Program(coach)


@pytest.fixture
def bo(client: Client) -> Client:
    """The coach's client, whose stored facts stand as at today."""
    ClientStateFactory(client=client)
    return client


@pytest.fixture
def stall(bo: Client) -> Flag:
    return FlagFactory(client=bo, kind=Kind.STALL, subject="Goblet squat")


@pytest.fixture
def pain(bo: Client) -> Flag:
    return FlagFactory(client=bo, kind=Kind.PAIN, subject="knee", urgency=Urgency.NOW)
