"""Where an address in `next` leads: to this host, or to the page that it would lead to without one.

ASVS 5.0 1.2.2, 3.7.2
"""

from __future__ import annotations

from urllib.parse import quote, urlsplit

import pytest
from django.http import HttpResponse
from django.test import Client as Browser

from tests.isolation.filled import FLAG_KIND
from tests.isolation.routes import Reach, desk_routes
from tests.isolation.test_desk import form_for, values_of
from tests.isolation.world import World

PASSWORD = "a kettle of tea"
HERE = "testserver"
EVIL = "evil.example"
ELSEWHERE = [
    f"//{EVIL}", f"///{EVIL}", f"////{EVIL}", f"/\\{EVIL}", f"\\\\{EVIL}", f"\\/{EVIL}", f"/\\/{EVIL}", f"//\\{EVIL}",
    f"http://{EVIL}", f"https://{EVIL}", f"HTTPS://{EVIL}", f"http:{EVIL}", f"https:{EVIL}", f"http:/{EVIL}",
    f"https:/{EVIL}", f"http:///{EVIL}", f"https:///{EVIL}", f"https:\\\\{EVIL}", f"https:/\\{EVIL}", f"ftp://{EVIL}",
    "javascript:alert(1)", "JaVaScRiPt:alert(1)", "java\tscript:alert(1)", "\tjavascript:alert(1)", "vbscript:x",
    "data:text/html,<script>alert(1)</script>", "data:text/html;base64,PHNjcmlwdD4=", "file:///etc/passwd",
    f"mailto:x@{EVIL}", f"//{HERE}@{EVIL}", f"https://{HERE}@{EVIL}", f"https://{HERE}:80@{EVIL}/",
    f"https://{HERE}.{EVIL}", f"https://{EVIL}/{HERE}", f"https://{EVIL}?{HERE}", f"https://{EVIL}#{HERE}",
    f"https://{EVIL}\\@{HERE}", f"//{EVIL}\\@{HERE}", f"https://{EVIL}%2f@{HERE}", f" //{EVIL}", f"\t//{EVIL}",
    f"\n//{EVIL}", f"\r\n//{EVIL}", f"\x00//{EVIL}", f"\x0b//{EVIL}", f"\u00a0//{EVIL}", f"\u2028//{EVIL}",
    f"/\t/{EVIL}", f"/\n/{EVIL}", f"/\r/{EVIL}", f"//{EVIL}/%2e%2e", f"//{EVIL}:80", f"//{EVIL}?next=/",
    f"/%0d%0aLocation:https://{EVIL}", f"/\r\nLocation: https://{EVIL}", f"/\r\n\r\n<script>{EVIL}</script>",
    "//evil\u3002example", "//evil\uff0eexample", "https://\u24d4vil.example", "//[::1]", "//0x7f000001",
    "//2130706433", "http://127.0.0.1",
    "http://localhost", f"https://[{EVIL}]", f"https://{EVIL}:notaport/", "//\u202emoc.live",
]  # fmt: skip


def is_here(answer: HttpResponse) -> bool:
    where = answer.headers.get("Location", "/")
    parts = urlsplit(where)
    is_ours = where.startswith("/") and not where.startswith(("//", "/\\")) and parts.scheme == parts.netloc == ""
    return is_ours and not set(where) & set("\r\n\t\x00\\")


@pytest.fixture
def browser(world: World) -> Browser:
    lead = world.people["lead"]
    assert lead is not None
    lead.email = "lead@example.org"
    lead.set_password(PASSWORD)
    lead.save()
    return Browser()


def test_there_are_sixty_ways_and_more() -> None:
    assert len(set(ELSEWHERE)) >= 60


@pytest.mark.parametrize("where", ELSEWHERE)
def test_signing_in_and_out_and_confirming_lead_nowhere_else(browser: Browser, where: str) -> None:
    asked = [
        browser.get("/sign-in/", {"next": where}),
        browser.post("/sign-in/passkey/", {"credential": "{}", "next": where}),
        browser.post(f"/sign-in/?next={quote(where)}", {"login": "lead@example.org", "password": PASSWORD}),
        browser.get(f"/sign-in/?next={quote(where)}"),
        browser.get("/admin/login/", {"next": where}),
        browser.post("/account/confirm/", {"password": PASSWORD, "next": where}),
        browser.post(f"/account/confirm/?next={quote(where)}", {"password": PASSWORD}),
        browser.post("/sign-out/", {"next": where}),
        browser.post("/sign-in/", {"login": "lead@example.org", "password": PASSWORD, "next": where}),
        browser.post(f"/sign-out/?next={quote(where)}"),
        browser.post("/password/forgotten/", {"email": "lead@example.org", "next": where}),
    ]

    assert [answer.request["PATH_INFO"] for answer in asked if not is_here(answer)] == []


@pytest.mark.parametrize("where", ELSEWHERE)
def test_changes_at_the_desk_lead_nowhere_else(world: World, where: str) -> None:
    browser, filled = world.browser_of("lead"), world.clients["north"]

    for route in desk_routes(Reach.CHANGE):
        address = route.address(values_of(filled) | {"kind": FLAG_KIND})

        assert is_here(browser.post(address, form_for(filled) | {"next": where})), route.pattern
