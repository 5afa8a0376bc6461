"""The walk of `walking`, a person at a time, and that it leaves nothing out.

ASVS 5.0 8.1.1 (the rules written down), 8.2.1 (who may use what), 8.2.2 (whose it is), 8.4.1 (studios apart), 4.1.4
"""

from __future__ import annotations

import pytest
from django.apps import apps

from coaching.api.description import describe
from tests.isolation import apart, beside
from tests.isolation.beside import Check
from tests.isolation.grants import API, DESK, NOTHING_IS_HERE, PROGRAMS, SESSIONS, Caller, people
from tests.isolation.objects import TABLES
from tests.isolation.routes import admin_patterns, all_routes
from tests.isolation.walking import WITH_A_SESSION, Walk
from tests.isolation.world import SEES, World


@pytest.mark.parametrize("caller", SESSIONS, ids=str)
def test_the_desk_answers_everybody_as_the_tables_say(world: World, caller: Caller) -> None:
    walk = Walk.through(world)

    walk.desk(caller)

    assert walk.leaks == []


@pytest.mark.parametrize("caller", [*PROGRAMS, *(one for one in SESSIONS if one.who in WITH_A_SESSION)], ids=str)
def test_the_interface_for_programs_answers_everybody_as_the_tables_say(world: World, caller: Caller) -> None:
    walk = Walk.through(world)

    walk.programs(caller)

    assert walk.leaks == []


def test_every_address_is_in_the_tables() -> None:
    found = {route.pattern for route in all_routes()} - admin_patterns()

    assert found == {*DESK, *(f"api/v1/{pattern}" for pattern in API), *NOTHING_IS_HERE}


def test_the_tables_and_the_description_for_programs_tell_of_the_same_operations() -> None:
    described = {
        (path.removeprefix("/api/v1/").replace("{public_id}", "<uuid:public_id>"), method.upper())
        for path, operations in describe()["paths"].items()
        for method in operations
        if method in {"get", "post", "put", "patch", "delete"}
    }

    told = {(pattern, method) for pattern, place in API.items() for method in place.methods}
    # The description leaves itself out.
    assert described == told - {("schema/", "GET")}


def test_every_table_is_told_by_what_it_is_reached() -> None:
    assert {model._meta.label for model in apps.get_models(include_auto_created=True)} == TABLES.keys()


def test_every_person_of_the_world_has_a_line() -> None:
    assert {*SEES, "superuser", "anonymous"} == set(people())


@pytest.mark.parametrize("check", [*beside.CHECKS, *apart.CHECKS], ids=lambda check: check.__name__)
def test_what_no_address_names_keeps_to_whose_it_is(world: World, check: Check) -> None:
    assert list(check(Walk.through(world))) == []
