from __future__ import annotations

import pytest
from time_machine import TimeMachineFixture

from coaching.monitoring.models import Flag, Kind, Urgency
from roster.people.models import Client, Coach
from tests.coaching.api.programs import Program
from tests.coaching.factories import WEDNESDAY, ClientStateFactory, FlagFactory


@pytest.fixture
def wednesday(time_machine: TimeMachineFixture) -> None:
    """Seven in the morning of 15 April 2026, in UTC."""
    time_machine.move_to(f"{WEDNESDAY.isoformat()}T07:00:00Z", tick=False)


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
