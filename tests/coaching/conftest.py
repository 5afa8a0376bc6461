from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client as Browser
from time_machine import TimeMachineFixture

from roster.people.models import Coach
from tests import signing_in
from tests.coaching.factories import WEDNESDAY


@pytest.fixture
def browser_of() -> Callable[[Coach], Browser]:
    return signing_in.browser_of


@pytest.fixture
def wednesday(time_machine: TimeMachineFixture) -> None:
    """Seven in the morning of 15 April 2026, in UTC."""
    time_machine.move_to(f"{WEDNESDAY.isoformat()}T07:00:00Z", tick=False)
