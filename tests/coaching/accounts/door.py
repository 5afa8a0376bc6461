"""What somebody does at the door: sign in, confirm, add a second factor."""

from __future__ import annotations

import re
import time

from allauth.mfa.models import Authenticator
from allauth.mfa.totp.internal.auth import format_hotp_value, hotp_value
from django.core import mail
from django.http import HttpResponse
from django.test import Client as Browser

from roster.people.models import Coach
from tests.coaching.accounts.conftest import PASSWORD

STEP_SECONDS = 30
NEW_PASSWORD = "seven lamps over the harbour"


def sign_in(browser: Browser, coach: Coach, password: str = PASSWORD, **more: str) -> HttpResponse:
    return browser.post("/sign-in/", {"login": coach.email, "password": password, **more})


def is_in(browser: Browser) -> bool:
    return browser.get("/account/").status_code == 200


def confirm(browser: Browser) -> None:
    assert browser.post("/account/confirm/", {"password": PASSWORD, "next": "/account/"}).status_code == 302


def code_of(secret: str, steps_later: int = 0) -> str:
    return format_hotp_value(hotp_value(secret, int(time.time()) // STEP_SECONDS + steps_later))


def add_app(browser: Browser) -> str:
    """The secret of the app that is asked for from now on; its code of this moment is used up."""
    confirm(browser)
    secret = browser.get("/account/app/add/").context["form"].secret
    answer = browser.post("/account/app/add/", {"code": code_of(secret)})
    assert answer.headers["Location"] == "/account/recovery-codes/"
    return str(secret)


def recovery_codes(browser: Browser) -> list[str]:
    return re.findall(r"<code>(\d{8})</code>", browser.get("/account/recovery-codes/").content.decode())


def second_factors(coach: Coach) -> set[str]:
    return set(Authenticator.objects.filter(user=coach).values_list("type", flat=True))


def ask_for_password(browser: Browser, email: str) -> HttpResponse:
    return browser.post("/password/forgotten/", {"email": email})


def link_in_mail() -> str:
    match = re.search(r"http://testserver(/password/new/\S+)", mail.outbox[-1].body)
    assert match
    return match[1]


def choose_password(browser: Browser, link: str, password: str = NEW_PASSWORD) -> HttpResponse:
    form = browser.get(link, follow=True)
    address = form.request["PATH_INFO"]
    return browser.post(address, {"password1": password, "password2": password})
