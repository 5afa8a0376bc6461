"""What every answer tells the browser: where content may come from, and that nothing of it is kept."""

from __future__ import annotations

import pytest
from django.http import HttpResponse
from django.test import Client as Browser
from django.test import override_settings

from coaching.settings import EMPTY_STYLE_HASH
from tests.isolation.asking import content_of
from tests.isolation.routes import BESIDE_A_CLIENT, DESK, Route, admin_tables, table_address
from tests.isolation.world import World

POLICY = {
    "default-src": "'none'",
    "script-src": "'self'",
    # The one style that is no file of ours is an empty one.
    "style-src": f"'self' {EMPTY_STYLE_HASH}",
    "img-src": "'self' data:",
    "font-src": "'self'",
    "connect-src": "'self'",
    "form-action": "'self'",
    "base-uri": "'none'",
    "object-src": "'none'",
    "frame-ancestors": "'none'",
}
HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Embedder-Policy": "require-corp",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=()",
}
STATIC_FILE = "/static/muster/base.css"


def policy_of(answer: HttpResponse) -> dict[str, str]:
    parts = (part.strip() for part in answer.headers["Content-Security-Policy"].split(";"))
    return dict(part.split(" ", 1) for part in parts if part)


def answers_of(world: World, who: str, method: str) -> list[HttpResponse]:
    values = BESIDE_A_CLIENT | {"public_id": world.clients["north"].client.public_id}
    desk = [Route(pattern).address(values) for pattern in DESK]
    elsewhere = ["/nowhere/", "/admin/", "/admin/login/", STATIC_FILE, f"/{table_address(admin_tables()[-1])}"]
    browser = world.browser_of(who)
    answers = [getattr(browser, method)(address) for address in [*desk, *elsewhere]]
    for answer in answers:
        content_of(answer)
    return answers


@pytest.mark.parametrize("who", ["lead", "owner elsewhere", "support", "signed out"])
@pytest.mark.parametrize("method", ["get", "head", "post", "put"])
def test_every_answer_carries_them(world: World, who: str, method: str) -> None:
    """ASVS 5.0 3.2.1"""
    for answer in answers_of(world, who, method):
        assert {name: answer.headers.get(name) for name in HEADERS} == HEADERS
        assert policy_of(answer) == POLICY


@pytest.mark.parametrize("who", ["lead", "support", "signed out"])
def test_no_page_is_kept_by_a_browser_or_on_the_way(world: World, who: str) -> None:
    """ASVS 5.0 14.3.2"""
    for answer in answers_of(world, who, "get"):
        is_page = answer.headers.get("Content-Type", "").startswith("text/html")
        assert not is_page or "no-store" in answer.headers["Cache-Control"]


def test_a_page_that_fails_carries_them_too(world: World, monkeypatch: pytest.MonkeyPatch) -> None:
    """ASVS 5.0 16.5.1, 16.5.4"""
    def fail(*_: object) -> None:
        raise RuntimeError("the disk is gone")

    monkeypatch.setattr("coaching.desk.views.morning.read_when", fail)
    browser = world.browser_of("lead")
    browser.raise_request_exception = False

    answer = browser.get("/")

    assert answer.status_code == 500
    assert policy_of(answer) == POLICY
    assert HEADERS.items() <= dict(answer.headers).items()
    assert "the disk is gone" not in answer.content.decode()


def test_a_host_that_is_not_ours_gets_a_page_that_says_nothing(db: None) -> None:
    answer = Browser().get("/sign-in/", headers={"host": "elsewhere.example"})

    assert answer.status_code == 400
    assert policy_of(answer) == POLICY
    assert "elsewhere.example" not in answer.content.decode()


def test_cookies_are_for_the_server_alone(world: World) -> None:
    lead, browser = world.people["lead"], Browser()
    assert lead is not None
    lead.set_password("a kettle of tea")
    lead.save()

    form = browser.get("/sign-in/")
    signed_in = browser.post("/sign-in/", {"login": lead.email, "password": "a kettle of tea"})

    cookies = {**form.cookies, **signed_in.cookies, **browser.get("/").cookies}
    assert {"sessionid", "csrftoken", f"visit_{lead.pk}"} <= cookies.keys()
    assert all(cookie["httponly"] and cookie["samesite"] == "Lax" for cookie in cookies.values())


@override_settings(SECURE_SSL_REDIRECT=True, SECURE_PROXY_SSL_HEADER=("HTTP_X_FORWARDED_PROTO", "https"))
def test_over_https_a_plain_request_is_sent_to_the_other_door(db: None) -> None:
    plain, safe = Browser().get("/sign-in/"), Browser().get("/sign-in/", headers={"x-forwarded-proto": "https"})

    assert (plain.status_code, plain.headers["Location"]) == (301, "https://testserver/sign-in/")
    assert safe.status_code == 200
