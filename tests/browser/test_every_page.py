"""What holds for every page, in each of its states."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import get_resolver

from tests.browser.pages import NO_PAGE, PAGES, Shown, all_shown
from tests.browser.visiting import PHONE, Visitor, unfold
from tests.isolation.routes import all_routes

TOO_WIDE = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
BROAD_WITHOUT_WORDS = "<img src=/static/muster/icon.svg width=500>"
every_page = pytest.mark.parametrize("shown", all_shown(), ids=lambda shown: shown.name)


def test_every_address_is_told_whether_it_is_a_page() -> None:
    of_the_desk = {route.pattern for route in all_routes() if not route.is_admin}

    assert of_the_desk - PAGES.keys() == NO_PAGE.keys()


@every_page
def test_a_page_is_what_it_is_told_to_be(shown: Shown) -> None:
    pattern = next(pattern for pattern, states in PAGES.items() if shown in states)
    path = shown.address.split("?")[0].format_map(AnyPlace())

    found = None if pattern == "nowhere" or pattern.startswith("failing") else get_resolver().resolve(path).route

    assert found in {pattern, None}


class AnyPlace(dict[str, str]):
    def __missing__(self, key: str) -> str:
        return "00000000-0000-4000-8000-000000000000"


@every_page
def test_nothing_stands_in_the_way_of_little_sight_or_none(visitor: Visitor, shown: Shown) -> None:
    page = visitor.open(shown.address, shown.who, shown.status)
    unfold(page)

    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        results = Axe().run(page)
        assert results.violations_count == 0, f"{scheme}: {results.generate_report()}"


@every_page
def test_nobody_scrolls_sideways_on_a_phone(visitor: Visitor, shown: Shown) -> None:
    page = visitor.open(shown.address, shown.who, shown.status, **PHONE)

    folded = page.evaluate(TOO_WIDE)
    unfold(page)
    unfolded = page.evaluate(TOO_WIDE)

    assert (folded, unfolded) == (0, 0)


def test_a_page_that_is_in_the_way_would_be_found(visitor: Visitor) -> None:
    page = visitor.open("/clients/", **PHONE)

    page.evaluate(f"document.querySelector('main').insertAdjacentHTML('beforeend', {BROAD_WITHOUT_WORDS!r})")

    assert [finding["id"] for finding in Axe().run(page).response["violations"]] == ["image-alt"]
    assert page.evaluate(TOO_WIDE) > 0
