"""Somebody at the desk: signed in or not, at a screen or a phone, who notices whatever goes wrong meanwhile."""

from __future__ import annotations

import os
import re
from pathlib import Path
from types import TracebackType
from typing import Any, Self
from urllib.parse import urlsplit

from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, Request, Response, expect

from tests.browser.pages import Shown
from tests.browser.studio import Desk

SCREEN = {"viewport": {"width": 1280, "height": 900}}
PHONE = {"viewport": {"width": 360, "height": 780}, "is_mobile": True, "has_touch": True}
# Nothing here takes seconds; a machine that has more to do than this test may.
LONGEST_WAIT_MS = 30_000
# Of a page that answers so by design, and of which the browser makes a line in its console.
FAILED_BY_DESIGN = "Failed to load resource: the server responded with a status of"
# How the browser tells that it was itself that broke off, as it does with whatever is on its way when a page is left.
CUT_OFF = "net::ERR_ABORTED"


class Visitor:
    """Opens pages in contexts of its own, and keeps what they did wrong in `faults`."""

    def __init__(self, browser: Browser, desk: Desk) -> None:
        self.browser, self.desk = browser, desk
        self.faults: list[str] = []
        self._cut_off: set[str] = set()
        self._contexts: list[BrowserContext] = []

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, _: TracebackType | None) -> None:
        for context in self._contexts:
            context.close()
        if kind is None:
            self.faults += self._ask_again()
            assert not self.faults, "\n".join(self.faults)

    def page(self, who: str | None = "owner", **options: Any) -> Page:
        """A tab with nothing in it yet; `who` is of `places.CAST`, None is nobody."""
        context = self.browser.new_context(**{**SCREEN, "locale": "en-GB", "reduced_motion": "reduce", **options})
        self._contexts.append(context)
        if who is not None:
            cookie = {"name": "sessionid", "value": self.desk.sessions[who], "url": self.desk.address}
            context.add_cookies([cookie])
        page = context.new_page()
        page.set_default_timeout(LONGEST_WAIT_MS)
        page.on("console", self._note_message)
        page.on("pageerror", lambda error: self.faults.append(f"script: {error}"))
        page.on("request", self._note_request)
        page.on("requestfailed", self._note_failure)
        page.on("response", self._note_response)
        return page

    def open(self, path: str, who: str | None = "owner", status: int = 200, **options: Any) -> Page:
        page = self.page(who, **options)
        answer = page.goto(self.desk.url(path))
        assert answer is not None
        assert answer.status == status, f"{path} answers {answer.status}"
        return page

    def show(self, shown: Shown, **options: Any) -> Page:
        page = self.open(shown.address, shown.who, shown.status, **options)
        assert shown.is_led_on or page.url == self.desk.url(shown.address), f"{shown.name} leads to {page.url}"
        if shown.then is not None:
            shown.then(page)
        return page

    def _note_message(self, message: ConsoleMessage) -> None:
        if message.type in {"error", "warning"} and not message.text.startswith(FAILED_BY_DESIGN):
            self.faults.append(f"console: {message.text}")

    def _note_request(self, request: Request) -> None:
        if not request.url.startswith((self.desk.address, "data:", "blob:")):
            self.faults.append(f"another host: {request.url}")

    def _note_failure(self, request: Request) -> None:
        if request.failure == CUT_OFF and request.method == "GET":
            self._cut_off.add(request.url)
        else:
            self.faults.append(f"failed: {request.url} ({request.failure})")

    def _ask_again(self) -> list[str]:
        """Of what was cut off, that which does not come when nobody leaves either."""
        if not self._cut_off:
            return []
        context = self.browser.new_context()
        answers = {url: context.request.get(url, timeout=LONGEST_WAIT_MS) for url in sorted(self._cut_off)}
        missing = [f"cut off, then {answer.status}: {url}" for url, answer in answers.items() if not answer.ok]
        context.close()
        return missing

    def _note_response(self, response: Response) -> None:
        """What a page is made of must be there; the page itself is checked by whoever opens it."""
        if response.status >= 400 and response.request.resource_type != "document":
            self.faults.append(f"{response.status}: {urlsplit(response.url).path}")


def arrive(page: Page, heading: str) -> None:
    """Wait for a page that something led to, and for its scripts: until they are there, keys and marks do nothing."""
    expect(page.get_by_role("heading", level=1, name=heading)).to_be_visible()
    page.wait_for_load_state()


def keep_picture(page: Page, name: str) -> None:
    """As a file of the run, if MUSTER_SCREENSHOTS names a folder for them."""
    if directory := os.environ.get("MUSTER_SCREENSHOTS"):
        file_name = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")
        page.screenshot(path=Path(directory) / f"{file_name}.png", full_page=True)


def unfold(page: Page) -> None:
    """Everything that is folded, with the drawings that are made only then."""
    page.evaluate("document.querySelectorAll('details').forEach((fold) => { fold.open = true; })")
    page.locator("[data-figure]:visible:not([data-drawn])").first.wait_for(state="detached")
