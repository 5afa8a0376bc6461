"""What the log keeps of signing in, and what it does not."""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterator

import pytest
from django.test import Client as Browser

from roster.people.models import Coach
from tests.coaching.accounts.door import NEW_PASSWORD, add_app, ask_for_password, choose_password, link_in_mail, sign_in

BrowserOf = Callable[[Coach], Browser]
WRITTEN_BY_A_VISITOR = "vera@example.org\n2026 INFO coach 1 signed in\x1b[2J"


@pytest.fixture
def lines(caplog: pytest.LogCaptureFixture) -> Iterator[Callable[[], list[str]]]:
    logger = logging.getLogger("coaching")
    logger.addHandler(caplog.handler)
    yield lambda: [record.getMessage() for record in caplog.records if record.name.startswith("coaching.accounts")]
    logger.removeHandler(caplog.handler)


def test_signing_in_and_out_and_failing_is_written_down(vera: Coach, lines: Callable[[], list[str]]) -> None:
    """ASVS 5.0 16.3.1"""
    browser = Browser()
    sign_in(browser, vera, "guess")
    sign_in(browser, vera)
    browser.post("/sign-out/")

    assert lines() == ["a try to sign in failed", f"coach {vera.pk} signed in", f"coach {vera.pk} signed out"]


def test_too_many_tries_are_written_down(vera: Coach, lines: Callable[[], list[str]]) -> None:
    for _ in range(11):
        sign_in(Browser(), vera, "guess")

    assert lines()[-1] == "too many tries to sign in"


def test_a_refused_second_factor_is_written_down(
    vera: Coach, browser_of: BrowserOf, lines: Callable[[], list[str]]
) -> None:
    """ASVS 5.0 16.3.1"""
    add_app(browser_of(vera))
    browser = Browser()
    sign_in(browser, vera)

    browser.post("/sign-in/second-factor/", {"code": "000000"})

    assert lines()[-1] == f"a second factor of coach {vera.pk} was refused"


def test_nothing_that_a_visitor_typed_and_no_address_is_written_down(
    vera: Coach, lines: Callable[[], list[str]]
) -> None:
    """ASVS 5.0 16.2.5, 16.4.1"""
    browser = Browser()
    browser.post("/sign-in/", {"login": WRITTEN_BY_A_VISITOR, "password": WRITTEN_BY_A_VISITOR})
    sign_in(browser, vera, "guess")
    ask_for_password(browser, vera.email)
    choose_password(browser, link_in_mail())
    sign_in(browser, vera, NEW_PASSWORD)

    written = " ".join(lines())

    assert f"coach {vera.pk} was told: account/email/password_reset" in written
    assert not any(word in written for word in ("vera", "example.org", "guess", NEW_PASSWORD, "\x1b", "\n"))
