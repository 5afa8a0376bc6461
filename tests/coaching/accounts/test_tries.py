"""How often somebody may try. That the counts are shared by processes is in test_two_processes.py."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.core.cache import caches
from django.test import Client as Browser
from django.test import override_settings
from time_machine import TimeMachineFixture

from roster.people.models import Coach
from tests.coaching.accounts.door import ask_for_password, is_in, sign_in

TOO_MANY = "Too many tries."


@pytest.fixture(autouse=True)
def morning(time_machine: TimeMachineFixture) -> None:
    time_machine.move_to("2026-04-15T07:00:00Z", tick=False)


def guess(coach: Coach, times: int, **headers: str) -> list[bool]:
    """For each try whether it was counted too many, each from a browser that is not known."""
    return [TOO_MANY in sign_in(Browser(headers=headers), coach, f"guess {n}").content.decode() for n in range(times)]


def test_ten_for_an_address_in_a_quarter_of_an_hour(vera: Coach, time_machine: TimeMachineFixture) -> None:
    """ASVS 5.0 6.3.1, 2.4.1"""
    assert guess(vera, 12) == [False] * 10 + [True] * 2
    assert TOO_MANY in sign_in(Browser(), vera).content.decode(), "the right password opens nothing either"

    time_machine.shift(timedelta(minutes=16))

    assert sign_in(Browser(), vera).status_code == 302


def test_whoever_was_here_before_is_not_locked_out_by_others_guessing(vera: Coach) -> None:
    own = Browser()
    sign_in(own, vera)
    own.post("/sign-out/")

    assert guess(vera, 11)[-1]

    assert sign_in(own, vera).status_code == 302
    assert is_in(own)


def test_a_known_browser_has_ten_tries_too_and_no_more(vera: Coach) -> None:
    own = Browser()
    sign_in(own, vera)
    own.post("/sign-out/")

    told = [TOO_MANY in sign_in(own, vera, f"guess {number}").content.decode() for number in range(11)]

    assert told == [False] * 10 + [True]


@pytest.mark.parametrize("mark", ["x", "device:1abcde:forged", ""])
def test_a_mark_of_ones_own_making_gains_nothing(vera: Coach, mark: str) -> None:
    told = []
    for number in range(11):
        browser = Browser()
        browser.cookies["device"] = f"{mark}{number}"
        told.append(TOO_MANY in sign_in(browser, vera, "guess").content.decode())

    assert told == [False] * 10 + [True]


def test_the_mark_of_one_address_says_nothing_of_another(vera: Coach, outsider: Coach) -> None:
    own = Browser()
    sign_in(own, vera)
    stranger = Browser()
    stranger.cookies["device"] = own.cookies["device"].value

    guess(outsider, 10)

    assert TOO_MANY in sign_in(stranger, outsider, "guess").content.decode()


def test_fifty_from_one_place_whoever_is_meant(vera: Coach) -> None:
    """ASVS 5.0 6.3.1"""
    told = []
    for number in range(52):
        answer = Browser().post("/sign-in/", {"login": f"somebody{number}@example.org", "password": "guess"})
        told.append(TOO_MANY in answer.content.decode())

    assert told == [False] * 50 + [True] * 2


def test_claiming_to_come_from_elsewhere_gains_nothing(vera: Coach) -> None:
    """ASVS 5.0 4.1.3, 15.3.4"""
    told = []
    for number in range(52):
        form = {"login": f"somebody{number}@example.org", "password": "guess"}
        invented = f"10.0.0.{number}"
        elsewhere = {"x-forwarded-for": invented, "forwarded": f"for={invented}", "x-real-ip": invented}
        told.append(TOO_MANY in Browser(headers=elsewhere).post("/sign-in/", form).content.decode())

    assert told == [False] * 50 + [True] * 2


@override_settings(ALLAUTH_TRUSTED_PROXY_COUNT=1)
def test_behind_a_proxy_of_ones_own_its_word_counts_and_what_stands_before_does_not(vera: Coach) -> None:
    """ASVS 5.0 15.3.4"""
    told = []
    for number in range(52):
        form = {"login": f"somebody{number}@example.org", "password": "guess"}
        claimed = {"x-forwarded-for": f"10.0.0.{number}, 192.0.2.7"}
        told.append(TOO_MANY in Browser(headers=claimed).post("/sign-in/", form).content.decode())
    other = Browser(headers={"x-forwarded-for": "192.0.2.8"})

    assert told == [False] * 50 + [True] * 2
    assert TOO_MANY not in other.post("/sign-in/", {"login": "a@example.org", "password": "guess"}).content.decode()


def test_where_tries_cannot_be_counted_nobody_is_let_in(vera: Coach, monkeypatch: pytest.MonkeyPatch) -> None:
    """ASVS 5.0 16.5.3"""

    def refuse(*_: object, **__: object) -> bool:
        raise ConnectionRefusedError

    monkeypatch.setattr(type(caches["default"]), "add", refuse)
    browser = Browser(raise_request_exception=False)

    answer = sign_in(browser, vera)

    assert answer.status_code == 500
    assert not is_in(browser)


def test_a_flood_is_answered_with_429_and_when_to_come_back(vera: Coach) -> None:
    answers = [Browser().post("/sign-in/", {"login": "no address", "password": "x"}) for _ in range(61)]

    assert [answer.status_code for answer in answers] == [200] * 60 + [429]
    assert answers[-1].headers["Retry-After"] == "60"
    assert "Wait a minute" in answers[-1].content.decode()


def test_one_address_gets_three_mails_for_a_new_password_in_a_quarter_of_an_hour(vera: Coach) -> None:
    for email in (vera.email, "nobody@example.org"):
        assert [ask_for_password(Browser(), email).status_code for _ in range(4)] == [302, 302, 302, 429]


@pytest.mark.parametrize("email", ["vera@example.org", "nobody@example.org", "closed@example.org"])
def test_the_answer_does_not_tell_who_is_known(vera: Coach, outsider: Coach, email: str) -> None:
    """ASVS 5.0 6.3.8"""
    Coach.objects.filter(pk=outsider.pk).update(email="closed@example.org", is_active=False)

    answer = Browser().post("/sign-in/", {"login": email, "password": "not the password"})

    assert answer.status_code == 200
    assert "That address and password do not belong together." in answer.content.decode()
    assert set(answer.cookies) == {"csrftoken"}


def test_a_closed_account_is_told_of_to_whoever_knows_its_password_alone(vera: Coach) -> None:
    Coach.objects.filter(pk=vera.pk).update(is_active=False)
    browser = Browser()

    assert sign_in(browser, vera).headers["Location"] == "/sign-in/closed/"
    assert not is_in(browser)
