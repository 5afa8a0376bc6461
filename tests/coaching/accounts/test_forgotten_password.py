from __future__ import annotations

from collections.abc import Callable

import pytest
from django.contrib.auth.tokens import PasswordResetTokenGenerator
from django.core import mail
from django.test import Client as Browser
from time_machine import TimeMachineFixture

from coaching.accounts.views import NOT_SENT
from roster.people.models import Coach
from tests.coaching.accounts.door import (
    NEW_PASSWORD,
    add_app,
    ask_for_password,
    choose_password,
    is_in,
    link_in_mail,
    sign_in,
)  # fmt: skip

BrowserOf = Callable[[Coach], Browser]


def test_the_link_in_the_mail_leads_to_a_new_password(vera: Coach) -> None:
    browser = Browser()
    ask_for_password(browser, vera.email)

    choose_password(browser, link_in_mail())

    assert not is_in(browser), "choosing a password signs nobody in"
    assert sign_in(Browser(), vera).status_code == 200, "the old one opens nothing"
    assert sign_in(browser, vera, NEW_PASSWORD).headers["Location"] == "/"


def test_the_link_holds_once(vera: Coach) -> None:
    ask_for_password(Browser(), vera.email)
    choose_password(Browser(), link_in_mail())

    again = Browser().get(link_in_mail_before_the_notice(), follow=True)

    assert "This link holds no longer" in again.content.decode()


def link_in_mail_before_the_notice() -> str:
    mail.outbox.pop()
    return link_in_mail()


@pytest.mark.parametrize(("minutes", "holds"), [(9, True), (11, False)])
def test_the_link_holds_for_ten_minutes(
    vera: Coach, time_machine: TimeMachineFixture, minutes: int, holds: bool
) -> None:
    """ASVS 5.0 6.5.5"""
    time_machine.move_to("2026-04-15T07:00:00Z", tick=False)
    ask_for_password(Browser(), vera.email)

    time_machine.shift(minutes * 60)

    page = Browser().get(link_in_mail(), follow=True).content.decode()
    assert ("This link holds no longer" not in page) is holds


def test_looking_at_the_link_uses_nothing_up(vera: Coach) -> None:
    """Programs that read mail follow its links."""
    ask_for_password(Browser(), vera.email)

    for _ in range(5):
        Browser().get(link_in_mail(), follow=True)

    assert choose_password(Browser(), link_in_mail()).headers["Location"] == "/password/new/done/"


def test_the_secret_of_the_link_does_not_stay_in_the_address(vera: Coach) -> None:
    """ASVS 5.0 14.2.1"""
    ask_for_password(Browser(), vera.email)

    page = Browser().get(link_in_mail(), follow=True)

    assert page.request["PATH_INFO"].endswith("-set-password/")


def test_a_new_password_ends_every_session_and_is_told_by_mail(vera: Coach, browser_of: BrowserOf) -> None:
    """ASVS 5.0 6.3.7"""
    elsewhere = browser_of(vera)
    ask_for_password(Browser(), vera.email)

    choose_password(Browser(), link_in_mail())

    assert not is_in(elsewhere)
    assert (mail.outbox[-1].subject, mail.outbox[-1].to) == ("Muster: Your password was changed", [vera.email])


def test_a_new_password_does_not_stand_in_for_the_second_factor(vera: Coach, browser_of: BrowserOf) -> None:
    """ASVS 5.0 6.4.3"""
    add_app(browser_of(vera))
    ask_for_password(Browser(), vera.email)
    choose_password(Browser(), link_in_mail())
    browser = Browser()

    answer = sign_in(browser, vera, NEW_PASSWORD)

    assert answer.headers["Location"] == "/sign-in/second-factor/"
    assert not is_in(browser)


@pytest.mark.parametrize("state", ["known", "unknown", "closed"])
def test_the_answer_does_not_tell_who_is_known(vera: Coach, state: str) -> None:
    """ASVS 5.0 6.3.8: the same page, and a mail in any case, so that neither text nor time differs."""
    email = {"known": vera.email, "unknown": "nobody@example.org", "closed": vera.email}[state]
    Coach.objects.update(is_active=state != "closed")

    answer = ask_for_password(Browser(), email)

    assert (answer.status_code, answer.headers["Location"]) == (302, "/password/forgotten/sent/")
    assert answer.cookies == {}
    assert [message.to for message in mail.outbox] == [[email]]
    assert ("/password/new/" in mail.outbox[0].body) is (state == "known")


def test_mail_that_cannot_be_sent_is_told_and_nothing_breaks(vera: Coach, monkeypatch: pytest.MonkeyPatch) -> None:
    """ASVS 5.0 16.5.2"""

    def refuse(*_: object) -> int:
        raise ConnectionRefusedError

    monkeypatch.setattr("django.core.mail.backends.locmem.EmailBackend.send_messages", refuse)

    answers = [ask_for_password(Browser(), email) for email in (vera.email, "nobody@example.org")]

    assert [answer.status_code for answer in answers] == [503, 503]
    assert all(NOT_SENT in answer.content.decode() for answer in answers)


def test_mail_goes_to_no_more_than_the_one_address(vera: Coach) -> None:
    """ASVS 5.0 1.3.11"""
    for email in ("vera@example.org\nBcc: all@example.org", "vera@example.org, all@example.org", "a@b\r\n\r\nhello"):
        answer = ask_for_password(Browser(), email)

        assert answer.status_code == 200
    assert mail.outbox == []


@pytest.mark.parametrize("email", ["vera", "nobody"])
def test_a_link_is_made_for_unknown_addresses_too_and_not_sent(
    vera: Coach, monkeypatch: pytest.MonkeyPatch, email: str
) -> None:
    """ASVS 5.0 6.3.8: making one takes time, which would tell."""
    made: list[Coach] = []
    make_hash = PasswordResetTokenGenerator._make_hash_value
    monkeypatch.setattr(
        PasswordResetTokenGenerator, "_make_hash_value", lambda self, *of: made.append(of[0]) or make_hash(self, *of)
    )

    ask_for_password(Browser(), vera.email if email == "vera" else "nobody@example.org")

    assert len(made) == 1
    assert ("/password/new/" in mail.outbox[-1].body) == (email == "vera")
