from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from typing import Any

import pytest
from bs4 import BeautifulSoup
from django.db import connection
from django.test import Client as Browser

from roster.people.models import Client, Coach
from tests.coaching.desk.boards import ReadBoard
from tests.coaching.desk.pages import BrowserOf, read_page
from tests.coaching.desk.stories import ReadStory
from tests.coaching.factories import ClientFactory, ClientStateFactory, CoachFactory


@pytest.fixture
def coach(db: None) -> Coach:
    return CoachFactory(first_name="Vera", last_name="Roth")


@pytest.fixture
def owner(coach: Coach) -> Coach:
    return CoachFactory(studio=coach.studio, role=Coach.Role.OWNER)


@pytest.fixture
def assistant(coach: Coach, client_of_coach: Client) -> Coach:
    """Reads the one client that is assigned."""
    helper = CoachFactory(studio=coach.studio, role=Coach.Role.ASSISTANT)
    client_of_coach.shared_with.add(helper)
    return helper


@pytest.fixture
def outsider(db: None) -> Coach:
    """Another studio's owner, who sees nothing of this one."""
    return CoachFactory(role=Coach.Role.OWNER)


@pytest.fixture
def client_of_coach(coach: Coach) -> Client:
    client = ClientFactory(lead=coach, name="Ilse Brandt", email="ilse@example.org", phone="+31 20 555 0101")
    ClientStateFactory(client=client)
    return client


@pytest.fixture
def read_story(coach: Coach, client_of_coach: Client, browser_of: BrowserOf) -> ReadStory:
    """The page of a client's story: of the coach's client, by the coach."""

    def read(query: str = "", client: Client = client_of_coach, by: Coach = coach) -> BeautifulSoup:
        return read_page(browser_of(by), f"/clients/{client.public_id}/{query}")

    return read


@pytest.fixture
def read_board(coach: Coach, browser_of: BrowserOf) -> ReadBoard:
    """The Turnout board, by the coach."""

    def read(query: str = "", by: Coach = coach) -> BeautifulSoup:
        return read_page(browser_of(by), f"/turnout/{query}")

    return read


@pytest.fixture
def assert_no_writes() -> Callable[[], AbstractContextManager[None]]:
    """Fails when anything in the block changes the database."""

    def refuse(execute: Callable[..., Any], sql: str, *more: Any) -> Any:
        assert sql.split(" ", 1)[0] not in {"INSERT", "UPDATE", "DELETE"}, sql
        return execute(sql, *more)

    @contextmanager
    def watched() -> Iterator[None]:
        with connection.execute_wrapper(refuse):
            yield

    return watched


@pytest.fixture
def desk(coach: Coach, browser_of: BrowserOf) -> Browser:
    ClientFactory(lead=coach, key="bo", name="Bo Lund")
    return browser_of(coach)
