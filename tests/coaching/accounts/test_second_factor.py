from __future__ import annotations

import json
from collections.abc import Callable
from datetime import timedelta

import pytest
from django.core import mail
from django.core.cache import cache
from django.test import Client as Browser
from time_machine import TimeMachineFixture

from roster.people.models import Coach
from tests.coaching.accounts.door import (
    STEP_SECONDS,
    add_app,
    code_of,
    confirm,
    is_in,
    recovery_codes,
    second_factors,
    sign_in,
)  # fmt: skip

BrowserOf = Callable[[Coach], Browser]
SECOND = "/sign-in/second-factor/"


@pytest.fixture
def secret(vera: Coach, browser_of: BrowserOf, time_machine: TimeMachineFixture) -> str:
    """Of an app that Vera added a minute ago."""
    time_machine.move_to("2026-04-15T07:00:00Z", tick=False)
    secret = add_app(browser_of(vera))
    time_machine.shift(timedelta(minutes=1))
    return secret


def at_the_second_door(vera: Coach) -> Browser:
    browser = Browser()
    assert sign_in(browser, vera).headers["Location"] == SECOND
    return browser


def test_a_code_of_the_app_is_asked_for_after_the_password(vera: Coach, secret: str) -> None:
    """ASVS 5.0 6.3.3"""
    browser = at_the_second_door(vera)
    assert not is_in(browser)

    answer = browser.post(SECOND, {"code": code_of(secret)})

    assert answer.headers["Location"] == "/"
    assert is_in(browser)


def test_the_page_that_was_asked_for_is_reached_after_both(vera: Coach, secret: str) -> None:
    browser = Browser()
    sign_in(browser, vera, next="/clients/")

    assert browser.post(SECOND, {"code": code_of(secret)}).headers["Location"] == "/clients/"


@pytest.mark.parametrize("steps_later", [-2, -1, 1, 2])
def test_a_code_holds_for_its_own_half_minute(vera: Coach, secret: str, steps_later: int) -> None:
    """ASVS 5.0 6.5.5"""
    browser = at_the_second_door(vera)

    assert browser.post(SECOND, {"code": code_of(secret, steps_later)}).status_code == 200
    assert not is_in(browser)


@pytest.mark.parametrize("forgotten", [False, True])
def test_a_code_opens_once(vera: Coach, secret: str, time_machine: TimeMachineFixture, forgotten: bool) -> None:
    """ASVS 5.0 6.5.1: also when the store of used codes has lost what it knew."""
    code = code_of(secret)
    at_the_second_door(vera).post(SECOND, {"code": code})
    time_machine.shift(STEP_SECONDS - 1)
    if forgotten:
        cache.clear()
    thief = at_the_second_door(vera)

    answer = thief.post(SECOND, {"code": code})

    assert "That code does not hold, or has been used." in answer.content.decode()
    assert not is_in(thief)


def test_the_code_that_proved_the_app_is_used_up(
    vera: Coach, browser_of: BrowserOf, time_machine: TimeMachineFixture
) -> None:
    time_machine.move_to("2026-04-15T07:00:00Z", tick=False)
    secret = add_app(browser_of(vera))

    assert at_the_second_door(vera).post(SECOND, {"code": code_of(secret)}).status_code == 200


def test_a_code_used_to_confirm_opens_nothing_else(vera: Coach, secret: str, browser_of: BrowserOf) -> None:
    code = code_of(secret)
    assert browser_of(vera).post("/account/confirm/code/", {"code": code, "next": "/account/"}).status_code == 302

    assert at_the_second_door(vera).post(SECOND, {"code": code}).status_code == 200


def test_ten_wrong_codes_are_the_end_of_it_for_a_while(
    vera: Coach, secret: str, time_machine: TimeMachineFixture
) -> None:
    """ASVS 5.0 6.3.1"""
    browser = at_the_second_door(vera)
    for number in range(10):
        browser.post(SECOND, {"code": f"{number:06}"})

    assert "Too many tries." in browser.post(SECOND, {"code": code_of(secret)}).content.decode()

    time_machine.shift(timedelta(minutes=14))
    assert "Too many tries." in browser.post(SECOND, {"code": code_of(secret)}).content.decode()
    time_machine.shift(timedelta(minutes=2))
    browser = at_the_second_door(vera)
    assert browser.post(SECOND, {"code": code_of(secret)}).status_code == 302


def test_a_recovery_code_opens_once(vera: Coach, browser_of: BrowserOf) -> None:
    """ASVS 5.0 6.5.1"""
    owner = browser_of(vera)
    add_app(owner)
    codes = recovery_codes(owner)
    assert len(set(codes)) == 10

    assert at_the_second_door(vera).post(SECOND, {"code": codes[3]}).status_code == 302
    assert at_the_second_door(vera).post(SECOND, {"code": codes[3]}).status_code == 200
    assert at_the_second_door(vera).post(SECOND, {"code": codes[4]}).status_code == 302


def test_recovery_codes_are_shown_once(vera: Coach, browser_of: BrowserOf) -> None:
    browser = browser_of(vera)
    add_app(browser)

    assert len(recovery_codes(browser)) == 10
    assert recovery_codes(browser) == []


@pytest.mark.django_db(transaction=True)
def test_new_recovery_codes_end_the_old_ones_and_are_told_by_mail(vera: Coach, browser_of: BrowserOf) -> None:
    browser = browser_of(vera)
    add_app(browser)
    old = recovery_codes(browser)

    browser.post("/account/recovery-codes/new/")

    assert not set(old) & set(recovery_codes(browser))
    assert at_the_second_door(vera).post(SECOND, {"code": old[0]}).status_code == 200
    assert mail.outbox[-1].subject == "Muster: New recovery codes were made"


CHANGES = ["/account/app/add/", "/account/app/remove/", "/account/recovery-codes/new/", "/account/passkeys/add/"]


@pytest.mark.parametrize("address", CHANGES)
def test_who_it_is_is_asked_again_before_a_second_factor_changes(
    vera: Coach, browser_of: BrowserOf, address: str
) -> None:
    """ASVS 5.0 7.5.1"""
    add_app(browser_of(vera))
    factors, browser = second_factors(vera), browser_of(vera)
    if address == "/account/app/add/":
        factors = set()
        vera.authenticator_set.all().delete()

    looked, changed = browser.get(address), browser.post(address, {"code": "000000"})

    assert looked.headers["Location"].startswith("/account/confirm/")
    assert changed.headers["Location"].startswith("/account/confirm/")
    assert second_factors(vera) == factors


def test_the_confirmation_is_forgotten_after_five_minutes(
    vera: Coach, browser_of: BrowserOf, time_machine: TimeMachineFixture
) -> None:
    time_machine.move_to("2026-04-15T07:00:00Z", tick=False)
    browser = browser_of(vera)
    confirm(browser)
    assert browser.get("/account/app/add/").status_code == 200

    time_machine.shift(timedelta(minutes=6))

    assert browser.get("/account/app/add/").status_code == 302


def test_taking_the_app_away_takes_its_recovery_codes_and_is_told_by_mail(vera: Coach, browser_of: BrowserOf) -> None:
    """ASVS 5.0 6.3.7"""
    browser = browser_of(vera)
    add_app(browser)

    browser.post("/account/app/remove/")

    assert second_factors(vera) == set()
    assert mail.outbox[-1].subject == "Muster: The authenticator app was taken away"
    assert mail.outbox[-1].to == [vera.email]
    assert sign_in(Browser(), vera).headers["Location"] == "/"


@pytest.mark.django_db(transaction=True)
def test_adding_an_app_is_told_by_mail(vera: Coach, browser_of: BrowserOf) -> None:
    add_app(browser_of(vera))

    assert mail.outbox[-1].subject == "Muster: An authenticator app was added"


@pytest.mark.parametrize("staff", [True, False])
def test_the_side_door_asks_for_the_second_factor_too(vera: Coach, secret: str, staff: bool) -> None:
    """ASVS 5.0 6.3.4"""
    Coach.objects.filter(pk=vera.pk).update(is_staff=staff)
    browser = Browser()

    form = browser.get("/admin/", follow=True)
    own_form = browser.post("/admin/login/", {"username": vera.email, "password": "a kettle of tea", "next": "/admin/"})

    assert form.request["PATH_INFO"] == "/sign-in/"
    assert own_form.headers["Location"] == "/sign-in/?next=%2Fadmin%2F"
    sign_in(browser, vera, next="/admin/")
    assert browser.get("/admin/").status_code == 302
    browser.post(SECOND, {"code": code_of(secret)})
    assert browser.get("/admin/", follow=True).status_code == (200 if staff else 403)


def test_the_side_door_changes_no_password(vera: Coach, browser_of: BrowserOf) -> None:
    Coach.objects.filter(pk=vera.pk).update(is_staff=True)

    answer = browser_of(vera).get("/admin/password_change/")

    assert answer.headers["Location"] == "/account/password/"


NONSENSE = [
    "", "{}", "[]", "1", "null", '"x"', "{", '{"response": 1}', '{"response": {}}', '{"response": null}',
    '{"response": {"userHandle": null}}', '{"response": {"userHandle": "Zg"}}', '{"response": {"userHandle": 7}}',
    json.dumps({"id": "x", "rawId": "x", "type": "public-key", "response": {"userHandle": "MQ"}}),
    json.dumps({
        "id": "eA", "rawId": "eA", "type": "public-key", "clientExtensionResults": {},
        "response": {"userHandle": None, "clientDataJSON": "e30", "authenticatorData": "eA", "signature": "eA"},
    }),
    json.dumps({
        "id": "eA", "rawId": "eA", "type": "public-key", "clientExtensionResults": {},
        "response": {"userHandle": "MQ", "clientDataJSON": "e30", "authenticatorData": "A" * 60, "signature": "eA"},
    }),
]  # fmt: skip


@pytest.mark.parametrize("credential", NONSENSE)
def test_a_passkey_that_is_none_opens_nothing_and_breaks_nothing(vera: Coach, credential: str) -> None:
    browser = Browser()
    browser.get("/sign-in/passkey/", headers={"accept": "application/json"})

    answer = browser.post("/sign-in/passkey/", {"credential": credential}, follow=True)

    assert answer.status_code == 200
    assert not is_in(browser)


def test_what_a_passkey_has_to_sign_is_another_each_time_and_tells_nothing_of_anybody(vera: Coach) -> None:
    asked = [Browser().get("/sign-in/passkey/", headers={"accept": "application/json"}).json() for _ in range(2)]

    options = [one["request_options"]["publicKey"] for one in asked]
    assert options[0]["challenge"] != options[1]["challenge"]
    assert all(not one.get("allowCredentials") and one["userVerification"] == "required" for one in options)
