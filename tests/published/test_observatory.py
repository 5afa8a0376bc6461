"""Every answer of the product as it is served, graded by Mozilla's table: no fault anywhere, and all bonuses but two.

Hosts on the browsers' preload list get five more, and that needs a domain. Hashes beside the
addresses of scripts get five more, and they guard against another host's changes: ours come from the same place as the
page that would name the hash.
"""

from __future__ import annotations

import re
import urllib.error
import urllib.request
from collections.abc import Iterator
from http.cookies import Morsel, SimpleCookie
from urllib.parse import urlencode

import pytest

from coaching.demo.cast import OWNER
from tests.coaching.accounts.served import TOKEN, manage, served
from tests.isolation.routes import all_routes
from tests.published.observatory import Answer, modifiers, score

# 100, and 10 for the policy, 5 each for referrers and frames, 10 each for the three about other origins.
EVERYWHERE = 150
WITH_COOKIES = 155
OUTSIDE = ["/nowhere/", "/admin/nowhere/", "/static/muster/base.css", "/static/nothing"]
GIVEN_TO_PATTERNS = {"kind": "stall", "uidb36": "1", "key": "x-y"}


class Scanner:
    """Asks as somebody behind a proxy with HTTPS does, and keeps every cookie."""

    def __init__(self, address: str) -> None:
        self.address = address
        self.cookies: dict[str, Morsel[str]] = {}

    def ask(self, path: str, form: dict[str, str] | None = None, **headers: str) -> tuple[int, Answer]:
        sent = {"X-Forwarded-Proto": "https", "Cookie": "; ".join(f"{m.key}={m.value}" for m in self.cookies.values())}
        body = urlencode(form).encode() if form else None
        request = urllib.request.Request(self.address + path, body, sent | headers)
        try:
            answer = urllib.request.build_opener(_StayHere).open(request, timeout=60)
        except urllib.error.HTTPError as error:
            answer = error
        with answer:
            for line in answer.headers.get_all("Set-Cookie", []):
                self.cookies |= SimpleCookie(line)
            page = answer.read().decode(errors="replace")
            return answer.status, Answer(dict(answer.headers.items()), page, dict(self.cookies))

    def sign_in(self) -> None:
        token = TOKEN.search(self.ask("/sign-in/")[1].page)
        assert token
        form = {"login": OWNER.email, "password": OWNER.password, "csrfmiddlewaretoken": token[1]}
        status, _ = self.ask("/sign-in/", form, Origin=self.address.replace("http:", "https:"))
        assert status == 302


class _StayHere(urllib.request.HTTPRedirectHandler):
    def redirect_request(self, *_: object) -> None:
        return None


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    home = tmp_path_factory.mktemp("home")
    manage(home, "demo", "--no-serve", "--clients", "12", "--weeks", "12")
    with served(home, processes=1, HTTPS="1") as addresses:
        yield addresses[0]


def paths(client: str) -> list[str]:
    """Every route, with a client of the demo in the place of ids, and what lies outside of all routes."""
    patterns = [route.pattern for route in all_routes() if "^" not in route.pattern and "(?P" not in route.pattern]
    filled = [re.sub(r"<(?:(\w+):)?(\w+)>", lambda match: _value(match, client), pattern) for pattern in patterns]
    return [*(f"/{path}" for path in filled), *OUTSIDE]


def _value(match: re.Match[str], client: str) -> str:
    kind, name = match.groups()
    return client if kind == "uuid" else GIVEN_TO_PATTERNS.get(name, "1")


@pytest.fixture(scope="module")
def answers(address: str) -> dict[str, tuple[int, Answer]]:
    """Of every path, asked for and sent to, by somebody signed in and by nobody."""
    owner, nobody = Scanner(address), Scanner(address)
    owner.sign_in()
    client = re.search(r"/clients/([0-9a-f-]{36})/", owner.ask("/?whose=all")[1].page)
    assert client
    asked = {
        f"{who} {how} {path}": scanner.ask(path, form)
        for path in paths(client[1])
        for who, scanner in (("owner", owner), ("nobody", nobody))
        for how, form in (("GET", None), ("POST", {"text": "x"}))
    }
    other_host = {"a host that is not ours": nobody.ask("/", Host="elsewhere.example")}
    other_origin = {"a page elsewhere": owner.ask("/", Origin="https://elsewhere.example")}
    return asked | other_host | other_origin


def test_pages_files_refusals_and_redirects_are_among_them(answers: dict[str, tuple[int, Answer]]) -> None:
    statuses = {status for status, _ in answers.values()}

    assert {200, 302, 400, 403, 404, 405} <= statuses
    assert not any(status >= 500 for status in statuses)
    assert len(answers) > 300


def test_no_answer_has_a_fault(answers: dict[str, tuple[int, Answer]]) -> None:
    """ASVS 5.0 3.3.1, 3.3.2, 3.3.4, 3.4.1, 3.4.3, 3.4.4, 3.4.5, 3.4.6, 3.4.8, 3.5.8"""
    faults = {
        name: {what: worth for what, worth in modifiers(answer).items() if worth < 0}
        for name, (_, answer) in answers.items()
    }

    assert {name: found for name, found in faults.items() if found} == {}


def test_every_answer_has_all_bonuses_but_two(answers: dict[str, tuple[int, Answer]]) -> None:
    scores = {name: score(answer) for name, (_, answer) in answers.items()}
    expected = {name: WITH_COOKIES if answer.cookies else EVERYWHERE for name, (_, answer) in answers.items()}

    assert {name: found for name, found in scores.items() if found != expected[name]} == {}


def test_every_cookie_is_bound_to_this_host(answers: dict[str, tuple[int, Answer]], address: str) -> None:
    """ASVS 5.0 3.3.3"""
    names = set().union(*(answer.cookies for _, answer in answers.values()))

    assert {"__Host-sessionid", "__Host-csrftoken", "__Host-device"} <= names
    assert {name for name in names if not name.startswith("__Host-")} == set()


def test_every_answer_says_what_it_is_and_text_says_in_which_letters(answers: dict[str, tuple[int, Answer]]) -> None:
    """ASVS 5.0 4.1.1"""
    kinds = {name: answer.header("content-type") or "" for name, (_, answer) in answers.items() if answer.page}

    assert {name: kind for name, kind in kinds.items() if "/" not in kind} == {}
    assert {name: kind for name, kind in kinds.items() if kind.startswith("text/") and "utf-8" not in kind} == {}


def test_no_answer_tells_which_versions_serve_it(answers: dict[str, tuple[int, Answer]]) -> None:
    """ASVS 5.0 13.4.6"""
    told = [(answer.header("server") or "") + (answer.header("x-powered-by") or "") for _, answer in answers.values()]

    assert not any(re.search(r"\d", words) for words in told)


def test_a_plain_request_is_led_over_before_anything_else(address: str) -> None:
    """ASVS 5.0 12.2.1: the table's row for redirection."""
    for path in ("/", "/sign-in/", "/clients/", "/nowhere/"):
        status, answer = Scanner(address).ask(path, **{"X-Forwarded-Proto": "http"})

        assert (status, answer.header("location")) == (301, address.replace("http:", "https:") + path)
        assert answer.cookies == {}


BAD = {
    "no header at all": ({}, "", {"content-security-policy": -25, "strict-transport-security": -20,
                                  "x-content-type-options": -5, "x-frame-options": -20}),
    "scripts in the page": ({"content-security-policy": "script-src 'unsafe-inline'"}, "",
                            {"content-security-policy": -20}),
    "a script from elsewhere": ({"content-type": "text/html"}, "<script src=//x.example/y.js></script>",
                                {"subresource-integrity": -50}),
    "eval": ({"content-security-policy": "default-src 'self' 'unsafe-eval'"}, "", {"content-security-policy": -10}),
    "a directive twice": ({"content-security-policy": "img-src x; img-src y"}, "", {"content-security-policy": -25}),
    "a day of HTTPS": ({"strict-transport-security": "max-age=86400"}, "", {"strict-transport-security": -10}),
    "whole addresses to others": ({"referrer-policy": "unsafe-url"}, "", {"referrer-policy": -5}),
}  # fmt: skip


@pytest.mark.parametrize("name", BAD)
def test_the_port_finds_what_is_bad(name: str) -> None:
    headers, page, expected = BAD[name]

    found = modifiers(Answer(headers, page))

    assert {what: found[what] for what in expected} == expected


@pytest.mark.parametrize(
    ("line", "worth"),
    [
        ("sessionid=x; Secure; HttpOnly; SameSite=Lax", 5),
        ("sessionid=x; Secure; HttpOnly", 0),
        ("sessionid=x; Secure; SameSite=Lax", -30),
        ("sessionid=x; HttpOnly; SameSite=Lax", -40),
        ("csrftoken=x; Secure", -20),
        ("visit=x; SameSite=Lax", -20),
    ],
)
def test_the_port_finds_cookies_that_are_bad(line: str, worth: int) -> None:
    assert modifiers(Answer({}, cookies=dict(SimpleCookie(line))))["cookies"] == worth
