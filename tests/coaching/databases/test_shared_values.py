"""Where the store of counts does not answer nobody is let in, and everybody is told so soon.

ASVS 5.0 16.5.2, 16.5.3.
"""

from __future__ import annotations

import socket
import time
from collections.abc import Iterator
from contextlib import closing

import pytest
from django.core.cache import cache
from django.test import Client as Browser
from django.test import override_settings
from redis import RedisError

from coaching.databases.connecting import SECONDS_FOR_A_SHARED_VALUE, shared_values
from roster.people.models import Coach
from tests.coaching.api.programs import Program, problem

pytestmark = pytest.mark.django_db
TOLD = "Nobody can be let in at the moment"


@pytest.fixture(params=["refuses", "hangs"])
def _store_that_does_not_answer(request: pytest.FixtureRequest) -> Iterator[None]:
    with closing(socket.socket()) as store:
        store.bind(("127.0.0.1", 0))
        if request.param == "hangs":
            store.listen()
        url = f"redis://127.0.0.1:{store.getsockname()[1]}/0"
        with override_settings(CACHES={"default": shared_values(url)}):
            yield


@pytest.mark.usefixtures("_store_that_does_not_answer")
def test_nobody_waits_long_for_a_store_that_hangs() -> None:
    started = time.monotonic()

    with pytest.raises(RedisError):
        cache.get("count")

    assert time.monotonic() - started < 2 * SECONDS_FOR_A_SHARED_VALUE


@pytest.mark.usefixtures("_store_that_does_not_answer")
def test_nobody_is_let_in_and_the_page_says_what_it_is_about(coach: Coach) -> None:
    browser = Browser(raise_request_exception=False)

    answer = browser.post("/sign-in/", {"login": coach.email, "password": "a kettle of tea"})

    assert (answer.status_code, answer.headers["Retry-After"]) == (503, "10")
    assert TOLD in answer.content.decode()
    assert "_auth_user_id" not in browser.session


@pytest.mark.usefixtures("_store_that_does_not_answer")
def test_another_program_gets_a_problem_detail(coach: Coach) -> None:
    program = Program(coach)
    program.browser.raise_request_exception = False

    answer = program.get("clients/")

    assert (problem(answer)["title"], answer.headers["Retry-After"]) == (TOLD, "10")


@pytest.mark.usefixtures("_store_that_does_not_answer")
def test_whoever_is_in_goes_on(coach: Coach) -> None:
    browser = Browser()
    browser.force_login(coach)

    assert browser.get("/clients/").status_code == 200
