"""How everybody asks: with the cookie or the token of their own, each request taken back again, so that none finds
what another changed.
"""

from __future__ import annotations

import json
import re
import time
from collections.abc import Mapping
from datetime import timedelta
from http.cookies import SimpleCookie
from typing import Any, NamedTuple

from allauth.account.internal.flows.login import (
    _AUTHENTICATION_METHODS_USER_SESSION_KEY,
    AUTHENTICATION_METHODS_SESSION_KEY,
)
from allauth.account.internal.userkit import user_id_to_str
from django.conf import settings
from django.core.cache import caches
from django.db import transaction
from django.http import HttpResponse
from django.shortcuts import resolve_url
from django.test import Client as Browser
from django.test.client import encode_multipart
from django.utils import timezone

from coaching.api.tokens import make_token
from roster.people.models import Coach
from tests.isolation.grants import Caller
from tests.isolation.world import World

BOUNDARY = "a-line-between-parts"
# What differs from one answer to the next anyhow: the page's own token, the request's number.
FORM_TOKEN = re.compile(r'name="csrfmiddlewaretoken" value="\w+"')
DIFFERS = {"X-Request-ID", "Set-Cookie"}


class Answer(NamedTuple):
    status: int
    headers: dict[str, str]
    body: str

    @property
    def is_at_the_door(self) -> bool:
        return self.status == 302 and self.headers.get("Location", "").startswith(resolve_url(settings.LOGIN_URL))

    @property
    def whole(self) -> str:
        return f"{self.headers}\n{self.body}"

    def but_for(self, ident: object) -> tuple[int, dict[str, str], str]:
        """To compare with the answer about another id."""
        told = {name: value.replace(str(ident), "") for name, value in self.headers.items() if name not in DIFFERS}
        return self.status, told, FORM_TOKEN.sub("", self.body).replace(str(ident), "")


class Asking:
    def __init__(self, world: World) -> None:
        self.world, self.browser, self.count = world, Browser(raise_request_exception=False), 0
        self.ways: dict[Caller, tuple[str, str]] = {}

    def __call__(
        self,
        caller: Caller,
        method: str,
        address: str,
        body: Any = None,
        headers: Mapping[str, str] | None = None,
        *,
        keep: bool = False,
    ) -> Answer:
        """`body` is a form, or JSON for the interface for programs; `keep` leaves what was changed."""
        self.count += 1
        # Counts of tries are not what is asked about here.
        caches["default"].key_prefix = f"{id(self)}-{self.count}"
        cookie, token = self.way_of(caller)
        self.browser.cookies = SimpleCookie({settings.SESSION_COOKIE_NAME: cookie} if cookie else None)
        sent = {**(headers or {}), **({"authorization": f"Bearer {token}"} if token else {})}
        is_json = address.startswith("/api/v1/") and not address.startswith("/api/v1/docs/")
        with transaction.atomic():
            answer = self.browser.generic(method, address, *_packed(body, is_json), headers=sent)
            transaction.set_rollback(not keep)
        return _read(answer)

    def way_of(self, caller: Caller) -> tuple[str, str]:
        if caller not in self.ways:
            person = self.world.people.get("lead" if caller.who == "signed out" else caller.who)
            is_program = caller.by != "session"
            self.ways[caller] = ("", _token(caller, person)) if is_program else (_cookie(caller, person), "")
        return self.ways[caller]


def _packed(body: Any, is_json: bool) -> tuple[bytes, str]:
    if body is None:
        return b"", "application/json" if is_json else "application/octet-stream"
    if is_json:
        return json.dumps(body).encode(), "application/json"
    return encode_multipart(BOUNDARY, body), f"multipart/form-data; boundary={BOUNDARY}"


def _read(answer: HttpResponse) -> Answer:
    content = content_of(answer).decode(errors="replace")
    cookies = {"Set-Cookie": answer.cookies.output()} if answer.cookies else {}
    return Answer(answer.status_code, {**answer.headers, **cookies}, content)


def content_of(answer: HttpResponse) -> bytes:
    """Read to its end, an answer is closed by Django's own browser, and not before.

    To close it once more would give a server's connection back in the middle of a test.
    """
    return b"".join(answer.streaming_content) if answer.streaming else answer.content


def _cookie(caller: Caller, person: Coach | None) -> str:
    """Of a session in which the password was given a moment ago; of one that is over for whoever has signed out."""
    if person is None:
        return ""
    browser = Browser()
    browser.force_login(person)
    session = browser.session
    session[AUTHENTICATION_METHODS_SESSION_KEY] = [{"method": "password", "at": time.time(), "reauthenticated": True}]
    session[_AUTHENTICATION_METHODS_USER_SESSION_KEY] = user_id_to_str(person)
    session.save()
    key = str(session.session_key)
    if caller.who == "signed out":
        browser.logout()
    return key


def _token(caller: Caller, person: Coach | None) -> str:
    if person is None:
        return f"{settings.REST_KNOX['TOKEN_PREFIX']}{'a' * 64}"
    row, token = make_token(coach=person, name="a program", scopes=caller.scopes, days=30)
    match caller.by:
        case "expired token":
            row.expiry = timezone.now() - timedelta(seconds=1)
            row.save()
        case "revoked token":
            row.delete()
        case "token of another password":
            row.sign_in_mark = "0" * 64
            row.save()
    return token
