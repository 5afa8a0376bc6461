from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client as Browser

from roster.people.models import Coach

BrowserOf = Callable[[Coach], Browser]


def sign_in(browser: Browser, email: str, password: str, **more: str) -> tuple[int, str]:
    answer = browser.post("/sign-in/", {"login": email, "password": password, **more}, follow=True)
    return answer.status_code, answer.request["PATH_INFO"]


@pytest.mark.parametrize("email", ["vera@example.org", "Vera@Example.org"])
def test_the_right_password_leads_to_the_morning_list(vera: Coach, email: str) -> None:
    assert sign_in(Browser(), email, "a kettle of tea") == (200, "/")


def test_signing_in_leads_on_to_the_page_that_was_asked_for_but_not_elsewhere(vera: Coach) -> None:
    assert sign_in(Browser(), vera.email, "a kettle of tea", next="/clients/")[1] == "/clients/"
    assert sign_in(Browser(), vera.email, "a kettle of tea", next="https://elsewhere.example/")[1] == "/"


def test_a_wrong_password_is_told_in_plain_words(vera: Coach) -> None:
    answer = Browser().post("/sign-in/", {"login": vera.email, "password": "coffee"})

    assert "That address and password do not belong together." in answer.content.decode()
    assert "sessionid" not in answer.cookies


def test_signing_out_ends_at_the_door(vera: Coach, browser_of: BrowserOf) -> None:
    browser = browser_of(vera)

    assert browser.get("/sign-out/").status_code == 405
    assert browser.post("/sign-out/").headers["Location"] == "/sign-in/"
    assert browser.get("/").headers["Location"] == "/sign-in/?next=/"


def test_a_page_that_is_not_there_says_so_in_the_look_of_the_desk(vera: Coach, browser_of: BrowserOf) -> None:
    answer = browser_of(vera).get("/nowhere/")

    assert answer.status_code == 404
    assert "There is no such page, or it is not yours to see." in answer.content.decode()
