"""What a visitor takes for a fault, and what not: leaving a page before all of it has come is none."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from tests.browser.studio import Desk
from tests.browser.visiting import Visitor

ICON = "/static/muster/icon.svg"


def visit_with_a_request_that_ends(browser: Browser, desk: Desk, path: str, how: str) -> None:
    with Visitor(browser, desk) as visitor:
        page = visitor.open("/sign-in/", who=None)
        page.route(f"**{path}?asked", lambda route: route.abort(how))
        page.evaluate("address => fetch(address).catch(() => null)", f"{path}?asked")


def test_what_was_cut_off_and_comes_when_it_is_asked_for_again_is_no_fault(browser: Browser, desk: Desk) -> None:
    visit_with_a_request_that_ends(browser, desk, ICON, "aborted")


def test_what_was_cut_off_and_does_not_come_then_either_is_one(browser: Browser, desk: Desk) -> None:
    with pytest.raises(AssertionError, match=r"cut off, then 404: .*/static/muster/nothing\.svg"):
        visit_with_a_request_that_ends(browser, desk, "/static/muster/nothing.svg", "aborted")


def test_what_breaks_off_at_the_other_end_is_one(browser: Browser, desk: Desk) -> None:
    with pytest.raises(AssertionError, match=r"failed: .*icon\.svg"):
        visit_with_a_request_that_ends(browser, desk, ICON, "connectionreset")
