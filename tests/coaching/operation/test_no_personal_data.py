"""A walk through every page, in order and failing, leaves nobody's words in what is written down. ASVS 5.0 16.2.5."""

from __future__ import annotations

import io

import pytest
from django.test import Client as Browser

from tests.isolation.conftest import World, wednesday, world
from tests.isolation.routes import BESIDE_A_CLIENT, DESK, Route, admin_tables, table_address

__all__ = ["wednesday", "world"]
FEWEST_LINES = 60
# In each page's form under a name of its own; here as whoever means ill would send it, to every page.
FORM = {
    "login": "quillwort@example.org", "email": "quillwort@example.org", "password": "quillwort-secret-1",
    "text": "quillwort note\nERROR forged", "note": "quillwort note", "what": "quillwort", "q": "quillwort",
}  # fmt: skip
WORDS = ("wort", "fernmoss", "bogmoss", "example.org", "secret", "forged")


def addresses(world: World) -> list[str]:
    client = world.clients["north"].client
    values = BESIDE_A_CLIENT | {"public_id": client.public_id, "key": "x-secret"}
    desk = [Route(pattern).address(values) for pattern in DESK]
    tables = [f"/{table_address(model)}" for model in admin_tables()]
    return [*desk, *tables, "/quillwort/nowhere/", "/admin/quillwort/"]


def walk(browser: Browser, world: World) -> None:
    for address in addresses(world):
        for method in (browser.get, browser.post):
            answer = method(f"{address}?q=quillwort&next=//quillwort.example.org", FORM)
            # To its end, so that the file that it may come from is closed.
            list(answer)


def test_the_words_are_on_the_pages(world: World) -> None:
    page = world.browser_of("owner").get("/clients/?q=quillwort").content.decode()

    assert "quillwort name" in page


@pytest.mark.parametrize("who", ["owner", "owner elsewhere", "signed out"])
def test_no_page_leaves_a_word_of_anybody(world: World, who: str, log: io.StringIO) -> None:
    walk(world.browser_of(who), world)

    assert log.getvalue().count("\n") > FEWEST_LINES
    assert [word for word in WORDS if word in log.getvalue().lower()] == []
    assert str(world.clients["north"].client.public_id) not in log.getvalue()


def test_no_page_that_fails_leaves_a_word_of_anybody(
    world: World, log: io.StringIO, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*arguments: object, **named: object) -> None:
        raise RuntimeError(f"quillwort name, quillwort@example.org: {arguments} {named}") from KeyError("quillwort")

    browser = world.browser_of("owner")
    browser.raise_request_exception = False
    monkeypatch.setattr("django.template.loader.render_to_string", fail)
    monkeypatch.setattr("django.template.response.SimpleTemplateResponse.rendered_content", property(fail))

    walk(browser, world)

    assert log.getvalue().count("request_failed") > 10
    assert [word for word in WORDS if word in log.getvalue().lower()] == []
