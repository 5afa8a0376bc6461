from __future__ import annotations

from collections.abc import Callable

import pytest
from django.core import mail
from django.core.exceptions import ValidationError
from django.test import Client as Browser

from coaching.accounts import rules
from roster.people.actions import open_studio
from roster.people.models import Coach, Studio
from tests.coaching.accounts.conftest import PASSWORD
from tests.coaching.accounts.door import NEW_PASSWORD, is_in, sign_in

BrowserOf = Callable[[Coach], Browser]
# Twelve characters or more, and on every list of passwords that are tried first.
OFTEN_USED = ["password1234", "qwertyuiop123", "123456789012"]


LONG = ["a" + "bc d" * 16, "f" * 60 + "lamp" * 30, "Löwenzahn im Frühbeet", " two spaces at the end  "]


def change(browser: Browser, new: str, present: str = PASSWORD) -> int:
    form = {"oldpassword": present, "password1": new, "password2": new}
    return browser.post("/account/password/", form).status_code


@pytest.mark.parametrize("new", ["eleven char", *OFTEN_USED, "vera@example.org"])
def test_short_often_used_and_own_words_are_refused(vera: Coach, browser_of: BrowserOf, new: str) -> None:
    """ASVS 5.0 6.2.1, 6.2.4"""
    assert change(browser_of(vera), new) == 200
    assert sign_in(Browser(), vera, new).status_code == 200


@pytest.mark.parametrize("new", LONG)
def test_long_ones_and_any_letters_are_taken_whole(vera: Coach, browser_of: BrowserOf, new: str) -> None:
    """ASVS 5.0 6.2.9"""
    assert change(browser_of(vera), new) == 302
    assert sign_in(Browser(), vera, new[:-1]).status_code == 200
    assert sign_in(Browser(), vera, new).status_code == 302


def test_they_are_kept_by_a_function_that_is_slow_on_purpose() -> None:
    """ASVS 5.0 11.4.2"""
    assert rules.PASSWORD_HASHERS[0].endswith("Argon2PasswordHasher")


def test_the_command_that_opens_a_studio_holds_to_the_same_rules(db: None) -> None:
    with pytest.raises(ValidationError, match="too short"):
        open_studio(name="North", owner_email="ana@example.org", password="short", time_zone="UTC")

    assert not Studio.objects.exists()


def test_a_change_asks_for_the_present_one(vera: Coach, browser_of: BrowserOf) -> None:
    """ASVS 5.0 7.5.1"""
    assert change(browser_of(vera), NEW_PASSWORD, present="guessed") == 200
    assert sign_in(Browser(), vera).status_code == 302


def test_a_change_ends_the_other_sessions_keeps_this_one_and_is_told_by_mail(
    vera: Coach, browser_of: BrowserOf
) -> None:
    """ASVS 5.0 6.3.7"""
    here, elsewhere = browser_of(vera), browser_of(vera)
    key_before = here.session.session_key

    change(here, NEW_PASSWORD)

    assert is_in(here)
    assert here.session.session_key != key_before
    assert not is_in(elsewhere)
    assert (mail.outbox[-1].subject, mail.outbox[-1].to) == ("Muster: Your password was changed", [vera.email])


def test_a_notice_that_cannot_be_sent_stops_nothing(
    vera: Coach, browser_of: BrowserOf, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> int:
        raise ConnectionRefusedError

    monkeypatch.setattr("django.core.mail.backends.locmem.EmailBackend.send_messages", refuse)

    assert change(browser_of(vera), NEW_PASSWORD) == 302
    assert sign_in(Browser(), vera, NEW_PASSWORD).status_code == 302
