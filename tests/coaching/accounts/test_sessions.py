from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

import pytest
from allauth.usersessions.models import UserSession
from django.conf import settings
from django.contrib.sessions.models import Session
from django.db import connection
from django.test import Client as Browser
from django.test import override_settings
from django.test.utils import CaptureQueriesContext
from time_machine import TimeMachineFixture

from roster.people.models import Coach
from tests.coaching.accounts.door import confirm, is_in, sign_in

BrowserOf = Callable[[Coach], Browser]
ANOTHER_KEY = "another-key-of-fifty-characters-or-more-for-this-test"
A_MORNING = "2026-04-15T07:00:00Z"


@pytest.fixture
def two_browsers(vera: Coach) -> tuple[Browser, Browser]:
    here, elsewhere = Browser(), Browser(headers={"user-agent": "a phone"})
    sign_in(here, vera)
    sign_in(elsewhere, vera)
    return here, elsewhere


def test_signing_in_begins_a_session_with_a_key_of_its_own(vera: Coach) -> None:
    """ASVS 5.0 7.2.4"""
    browser = Browser()
    browser.get("/password/new/1-x-y/")
    session = browser.session
    session["planted"] = "before"
    session.save()
    browser.cookies[settings.SESSION_COOKIE_NAME] = session.session_key

    sign_in(browser, vera)

    assert browser.cookies[settings.SESSION_COOKIE_NAME].value != session.session_key
    assert not Session.objects.filter(session_key=session.session_key).exists()


def test_the_key_is_too_long_to_be_guessed(vera: Coach) -> None:
    """ASVS 5.0 7.2.3, 11.5.1: 32 characters of 36, drawn by the system's own generator, are 165 bits."""
    browser = Browser()
    sign_in(browser, vera)

    key = browser.cookies[settings.SESSION_COOKIE_NAME].value

    assert len(key) == 32
    assert set(key) <= set("abcdefghijklmnopqrstuvwxyz0123456789")


def test_signing_out_ends_it_on_the_server(vera: Coach) -> None:
    """ASVS 5.0 7.4.1"""
    browser, thief = Browser(), Browser()
    sign_in(browser, vera)
    thief.cookies[settings.SESSION_COOKIE_NAME] = browser.cookies[settings.SESSION_COOKIE_NAME].value
    assert is_in(thief)

    browser.post("/sign-out/")

    assert not is_in(thief)


def test_signing_out_clears_what_the_browser_keeps(vera: Coach) -> None:
    """ASVS 5.0 14.3.1: but not the mark of a known browser, which is for the next time."""
    browser = Browser()
    sign_in(browser, vera)

    assert browser.post("/sign-out/").headers["Clear-Site-Data"] == '"cache", "storage"'


def test_it_ends_twelve_hours_after_the_last_page(vera: Coach, time_machine: TimeMachineFixture) -> None:
    """ASVS 5.0 7.3.1"""
    time_machine.move_to(A_MORNING, tick=False)
    browser = Browser()
    sign_in(browser, vera)

    time_machine.shift(timedelta(hours=11, minutes=59))
    assert is_in(browser)
    time_machine.shift(timedelta(hours=11, minutes=59))
    assert is_in(browser)
    time_machine.shift(timedelta(hours=12, minutes=1))
    assert not is_in(browser)


def test_it_ends_after_a_week_however_much_it_is_used(vera: Coach, time_machine: TimeMachineFixture) -> None:
    """ASVS 5.0 7.3.2"""
    time_machine.move_to(A_MORNING, tick=False)
    browser = Browser()
    sign_in(browser, vera)

    hours = [hour for hour in range(8, 200, 8) if (time_machine.shift(timedelta(hours=8)), is_in(browser))[1]]

    assert hours == list(range(8, 168, 8))


def test_use_is_written_down_every_five_minutes_not_with_every_page(
    vera: Coach, time_machine: TimeMachineFixture
) -> None:
    time_machine.move_to(A_MORNING, tick=False)
    browser = Browser()
    sign_in(browser, vera)

    writes = []
    for _ in range(12):
        time_machine.shift(timedelta(minutes=1))
        with CaptureQueriesContext(connection) as queries:
            browser.get("/account/")
        writes.append(sum(query["sql"].startswith("UPDATE") for query in queries))

    assert writes == [0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0]


def test_whoever_is_let_go_is_out_at_once(vera: Coach) -> None:
    """ASVS 5.0 7.4.2"""
    browser = Browser()
    sign_in(browser, vera)

    Coach.objects.filter(pk=vera.pk).update(is_active=False)

    assert not is_in(browser)


def test_one_sees_where_one_is_signed_in(two_browsers: tuple[Browser, Browser]) -> None:
    page = two_browsers[0].get("/account/sessions/").content.decode()

    assert page.count("from 127.0.0.1") == 2
    assert "a phone" in page


def test_the_others_are_ended_after_it_was_asked_once_more_who_it_is(two_browsers: tuple[Browser, Browser]) -> None:
    """ASVS 5.0 7.5.2"""
    here, elsewhere = two_browsers
    assert here.post("/account/sessions/end/").headers["Location"].startswith("/account/confirm/")
    assert is_in(elsewhere)

    confirm(here)
    here.post("/account/sessions/end/")

    assert is_in(here)
    assert not is_in(elsewhere)


def test_a_single_one_is_ended_by_name(two_browsers: tuple[Browser, Browser]) -> None:
    here, elsewhere = two_browsers
    confirm(here)

    here.post("/account/sessions/end/", {"session": UserSession.objects.get(user_agent="a phone").pk})

    assert is_in(here)
    assert not is_in(elsewhere)


def test_nobody_ends_a_session_of_somebody_else(two_browsers: tuple[Browser, Browser], outsider: Coach) -> None:
    outsider.set_password("a kettle of tea")
    outsider.save()
    stranger = Browser()
    sign_in(stranger, outsider)
    confirm(stranger)

    for row in UserSession.objects.exclude(user=outsider):
        stranger.post("/account/sessions/end/", {"session": row.pk})

    assert all(is_in(browser) for browser in two_browsers)


def test_what_is_asked_for_comes_after_the_confirmation(two_browsers: tuple[Browser, Browser]) -> None:
    here, elsewhere = two_browsers

    asked = here.post("/account/sessions/end/")
    here.post(asked.headers["Location"], {"password": "a kettle of tea", "next": "/account/sessions/end/"})

    assert not is_in(elsewhere)


def test_whoever_confirms_goes_on_under_a_new_key(vera: Coach) -> None:
    """ASVS 5.0 7.2.4"""
    browser, thief = Browser(), Browser()
    sign_in(browser, vera)
    thief.cookies[settings.SESSION_COOKIE_NAME] = browser.cookies[settings.SESSION_COOKIE_NAME].value

    confirm(browser)

    assert not is_in(thief)
    assert is_in(browser)
    assert UserSession.objects.get().session_key == browser.cookies[settings.SESSION_COOKIE_NAME].value


def test_nobody_is_signed_in_without_doing_it(vera: Coach) -> None:
    """ASVS 5.0 7.6.2"""
    browser = Browser()

    for address in ("/", "/sign-in/", "/sign-in/passkey/", "/sign-in/second-factor/", "/password/new/1-x-y/"):
        browser.get(address, follow=True)

    assert not is_in(browser)


@pytest.mark.parametrize("kept", [True, False])
def test_a_new_key_of_the_installation_signs_nobody_out_while_the_old_one_is_kept(vera: Coach, kept: bool) -> None:
    """ASVS 5.0 13.3.1"""
    browser = Browser()
    sign_in(browser, vera)
    old = settings.SECRET_KEY

    with override_settings(SECRET_KEY=ANOTHER_KEY, SECRET_KEY_FALLBACKS=[old] * kept):
        assert is_in(browser) is kept
