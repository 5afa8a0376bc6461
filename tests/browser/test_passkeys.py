"""Passkeys, with the browser's own stand-in for a device that asks for a finger."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from coaching.demo.cast import OWNER
from tests.browser.studio import Desk
from tests.browser.visiting import Visitor

DEVICE = {
    "protocol": "ctap2",
    "transport": "internal",
    "hasResidentKey": True,
    "hasUserVerification": True,
    "isUserVerified": True,
    "automaticPresenceSimulation": True,
}

SCRIPT = "**/mfa/js/webauthn.js"


@pytest.fixture
def at_home(browser: Browser, fresh_desk: Desk) -> Iterator[Visitor]:
    """A passkey belongs to a name: the same desk under the name of this machine."""
    with Visitor(browser, replace(fresh_desk, address=fresh_desk.address.replace("127.0.0.1", "localhost"))) as visitor:
        yield visitor


def hold_a_device(page: Page) -> None:
    session = page.context.new_cdp_session(page)
    session.send("WebAuthn.enable")
    session.send("WebAuthn.addVirtualAuthenticator", {"options": DEVICE})


def add_a_passkey(visitor: Visitor) -> Page:
    """By an owner who has confirmed a moment ago who she is."""
    page = visitor.open("/account/")
    hold_a_device(page)
    page.get_by_role("link", name="Add a passkey").click()
    page.get_by_role("button", name="Add it").click()
    expect(page.get_by_role("heading", name="Recovery codes")).to_be_visible()
    return page


def sign_out(page: Page) -> None:
    page.locator("summary", has_text="VR").click()
    page.get_by_role("button", name="Sign out").click()
    expect(page.get_by_role("heading", name="Sign in")).to_be_visible()


def test_a_passkey_signs_in_by_itself(at_home: Visitor) -> None:
    page = add_a_passkey(at_home)
    expect(page.locator(".codes li")).to_have_count(10)
    sign_out(page)

    page.get_by_role("button", name="Sign in with a passkey").click()

    expect(page).to_have_url(at_home.desk.url("/"))


def test_it_is_asked_for_after_the_password_too(at_home: Visitor) -> None:
    page = add_a_passkey(at_home)
    sign_out(page)
    page.get_by_label("E-mail address").fill(OWNER.email)
    page.get_by_label("Password").fill(OWNER.password)
    page.get_by_role("button", name="Sign in", exact=True).click()
    expect(page.get_by_role("heading", name="And the second factor")).to_be_visible()

    page.get_by_role("button", name="Use a passkey").click()

    expect(page).to_have_url(at_home.desk.url("/"))


def test_it_confirms_who_takes_it_away(at_home: Visitor) -> None:
    page = add_a_passkey(at_home)
    sign_out(page)
    page.get_by_role("button", name="Sign in with a passkey").click()
    expect(page).to_have_url(at_home.desk.url("/"))
    page.goto(at_home.desk.url("/account/"))

    page.get_by_role("link", name="Take away This device").click()
    page.get_by_role("link", name="a passkey").click()
    page.get_by_role("button", name="Use a passkey").click()
    page.get_by_role("button", name="Take it away").click()

    expect(page.get_by_text("The passkey is taken away.")).to_be_visible()
    expect(page.get_by_text("your password alone opens the desk")).to_be_visible()


def test_nothing_can_be_pressed_that_does_nothing_yet(at_home: Visitor) -> None:
    page, held = at_home.page(), list[Route]()
    page.route(SCRIPT, lambda route: held.append(route))
    with page.expect_request(SCRIPT):
        page.goto(at_home.desk.url("/account/passkeys/add/"), wait_until="commit")
    button = page.get_by_role("button", name="Add it")
    expect(button).to_be_disabled()

    held[0].continue_()

    expect(button).to_be_enabled()
    expect(page.get_by_role("alert")).to_be_hidden()


def test_a_device_that_refuses_is_told_of_in_words(at_home: Visitor) -> None:
    page = at_home.open("/sign-in/", who=None)
    hold_a_device(page)

    page.get_by_role("button", name="Sign in with a passkey").click()

    expect(page.get_by_role("alert")).to_contain_text("No passkey was used")
    expect(page.get_by_label("E-mail address")).to_be_visible()
