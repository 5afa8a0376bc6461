"""Two studios, three clients, and everybody who might look."""

from __future__ import annotations

import pytest
from django.contrib.auth.models import Permission
from time_machine import TimeMachineFixture

from roster.people.models import Coach
from tests.coaching.factories import WEDNESDAY, CoachFactory
from tests.isolation.world import World, build_world


@pytest.fixture(autouse=True)
def wednesday(time_machine: TimeMachineFixture) -> None:
    time_machine.move_to(f"{WEDNESDAY.isoformat()}T07:00:00Z", tick=False)


@pytest.fixture
def world(db: None) -> World:
    return build_world()


@pytest.fixture
def staff(world: World) -> dict[str, Coach]:
    """Support that may look at every table of the side door: in a studio as owner and as coach, and in none."""
    people = {
        "owner": CoachFactory(studio=world.people["owner"].studio, role=Coach.Role.OWNER, is_staff=True),
        "colleague": CoachFactory(studio=world.people["owner"].studio, is_staff=True),
        "support": CoachFactory(studio=None, role=Coach.Role.OWNER, is_staff=True),
    }
    world.clients["colleagues"].client.shared_with.add(people["colleague"])
    for person in people.values():
        person.user_permissions.set(Permission.objects.exclude(content_type__app_label="auth"))
    return people
