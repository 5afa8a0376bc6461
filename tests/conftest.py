"""The cast of most tests: a studio's owner who coaches, a client of theirs, and a coach of another studio."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from typing import Any
from uuid import uuid4

import pytest
from django.core.cache import caches
from hypothesis import settings

from roster.people.models import Client, Coach, Studio
from tests.coaching.factories import ClientFactory, CoachFactory, StudioFactory

# The same examples every time, so that a run tells about the change; `--hypothesis-profile=random` draws others.
settings.register_profile("same", derandomize=True, deadline=None, database=None)
settings.register_profile("random", deadline=None, print_blob=True)
settings.load_profile("same")

THIS_MACHINE = {"127.0.0.1", "::1", "localhost"}


@pytest.fixture(scope="session", autouse=True)
def nothing_reaches_the_network() -> Iterator[None]:
    connect = socket.socket.connect

    def connect_here(self: socket.socket, address: Any) -> None:
        if isinstance(address, tuple) and address[0] not in THIS_MACHINE:
            raise RuntimeError(f"a test reaches for {address[0]}")
        connect(self, address)

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(socket.socket, "connect", connect_here)
        yield


@pytest.fixture(autouse=True)
def _counts_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    """Tries to sign in are counted where all processes share; no test is to meet those of another."""
    monkeypatch.setattr(caches["default"], "key_prefix", uuid4().hex)


@pytest.fixture
def studio(db: None) -> Studio:
    return StudioFactory(name="North Street")


@pytest.fixture
def coach(studio: Studio) -> Coach:
    return CoachFactory(studio=studio, role=Coach.Role.OWNER, email="ana@example.org")


# Takes the name from the test client of pytest-django: here a client is somebody who trains.
@pytest.fixture
def client(coach: Coach) -> Client:
    return ClientFactory(lead=coach, key="bo", name="Bo")


@pytest.fixture
def outsider(db: None) -> Coach:
    return CoachFactory(studio=StudioFactory(name="South Street"), role=Coach.Role.OWNER, email="cai@example.org")
