"""Every route asked in every way: changes need the token of a page of ours, and looking changes nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from django.contrib.sessions.models import Session
from django.db import connection

from coaching.operation.models import Probe
from roster.people.models import Client, Coach, Studio, ViewRecord
from tests.isolation.routes import BESIDE_A_CLIENT, DESK, Reach, Route, admin_tables, table_address
from tests.isolation.world import World

# What looking may write: who looked at whom, what the browser's own session holds, such as a secret being set up, and
# whether writing works.
MAY_BE_WRITTEN = {ViewRecord._meta.db_table, Session._meta.db_table, Probe._meta.db_table, "shared_values"}
BODIES = [
    ("application/x-www-form-urlencoded", "text=x"),
    ("text/plain", '{"text": "x"}'),
    ("application/json", '{"text": "x"}'),
]


@contextmanager
def written_tables() -> Iterator[list[str]]:
    written: list[str] = []

    def watch(execute: Callable[..., Any], sql: str, *more: Any) -> Any:
        if sql.split(" ", 1)[0] in {"INSERT", "UPDATE", "DELETE", "REPLACE"}:
            written.append(sql.split('"')[1])
        return execute(sql, *more)

    with connection.execute_wrapper(watch):
        yield written


def addresses(world: World) -> list[str]:
    values = BESIDE_A_CLIENT | {"public_id": world.clients["north"].client.public_id}
    desk = [Route(pattern).address(values) for pattern in DESK]
    return [*desk, "/admin/", *(f"/{table_address(model)}" for model in admin_tables())]


@pytest.mark.parametrize("who", ["lead", "support", "signed out"])
@pytest.mark.parametrize("method", ["get", "head"])
def test_looking_writes_nothing_but_who_looked_and_ones_own_session(world: World, who: str, method: str) -> None:
    """ASVS 5.0 3.5.3"""
    browser = world.browser_of(who)

    for address in addresses(world):
        with written_tables() as written:
            getattr(browser, method)(address)

        assert set(written) <= MAY_BE_WRITTEN, address


@pytest.mark.parametrize("who", ["lead", "owner elsewhere", "support", "signed out"])
@pytest.mark.parametrize(("kind", "body"), BODIES, ids=[kind for kind, _ in BODIES])
def test_a_form_from_elsewhere_changes_nothing(world: World, who: str, kind: str, body: str) -> None:
    """ASVS 5.0 3.5.1: without the token of a page of ours, and with another origin, whatever the body claims to be."""
    browser = world.browser_of(who, with_csrf=True)
    browser.cookies["csrftoken"] = "x" * 32

    for address in addresses(world):
        with written_tables() as written:
            answers = [
                browser.post(address, body, content_type=kind),
                browser.post(address, body, content_type=kind, headers={"origin": "https://evil.example"}),
            ]

        assert {answer.status_code for answer in answers} <= {403, 405}, address
        assert written == [], address


@pytest.mark.parametrize("who", ["lead", "signed out"])
@pytest.mark.parametrize("method", ["put", "patch", "delete", "options", "trace"])
def test_other_methods_lead_nowhere(world: World, who: str, method: str) -> None:
    """ASVS 5.0 4.1.4"""
    values = BESIDE_A_CLIENT | {"public_id": world.clients["north"].client.public_id}
    browser = world.browser_of(who)

    statuses = {pattern: getattr(browser, method)(Route(pattern).address(values)).status_code for pattern in DESK}

    assert {pattern: status for pattern, status in statuses.items() if status != 405} == {}


@pytest.mark.parametrize("pattern", [pattern for pattern, reach in DESK.items() if reach is Reach.ACCOUNT])
def test_ones_account_is_for_those_who_are_signed_in(world: World, pattern: str) -> None:
    address = Route(pattern).address(BESIDE_A_CLIENT | {"public_id": world.clients["north"].client.public_id})

    for method in ("get", "post"):
        answer = getattr(world.browser_of("signed out"), method)(address)

        assert answer.status_code == 405 or answer.headers["Location"].startswith("/sign-in/")


def test_fields_that_no_form_has_are_not_taken(world: World) -> None:
    """ASVS 5.0 15.3.3"""
    browser, filled, lead = world.browser_of("lead"), world.clients["north"], world.people["lead"]
    assert lead is not None
    names = {field.name for model in (Client, Coach, Studio) for field in model._meta.get_fields()}
    before = [Client.objects.values().get(pk=filled.client.pk), Coach.objects.values().get(pk=lead.pk)]

    for address in addresses(world):
        browser.post(address, dict.fromkeys(names, "1") | {"text": "x"})
        browser.post(address, dict.fromkeys(names, "owner") | {"text": "x"})

    assert [Client.objects.values().get(pk=filled.client.pk), Coach.objects.values().get(pk=lead.pk)] == before
