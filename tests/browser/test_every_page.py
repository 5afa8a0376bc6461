"""What holds for every page, in each of its states."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import get_resolver

from tests.browser.pages import NO_PAGE, PAGES, Shown, all_shown
from tests.browser.studio import Desk
from tests.browser.visiting import PHONE, Visitor, keep_picture, unfold
from tests.isolation.routes import all_routes

TOO_WIDE = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
# What asks to be still is: the visitor has asked for less motion.
MOVING = """
() => [...document.querySelectorAll("body *")].filter((element) => {
  const style = getComputedStyle(element);
  const times = `${style.transitionDuration}, ${style.animationDuration}`.split(",").map(parseFloat);
  return element.getAnimations().length || times.some((seconds) => seconds > 0) || style.scrollBehavior === "smooth";
}).map((element) => element.outerHTML.slice(0, 80))
"""
# WCAG 2.2, success criterion 2.5.8, with its exceptions: axe leaves it out unless it is asked.
ALL_RULES = {"rules": {"target-size": {"enabled": True}}}
TARGET_SIZE = {"runOnly": {"type": "rule", "values": ["target-size"]}}
BROAD_WITHOUT_WORDS = "<img src=/static/muster/icon.svg width=500>"
TWO_BUTTONS = "<button>.</button><button>.</button>"
every_page = pytest.mark.parametrize("shown", all_shown(), ids=lambda shown: shown.name)


def test_every_address_is_told_whether_it_is_a_page() -> None:
    of_the_desk = {route.pattern for route in all_routes() if not route.is_admin}

    assert of_the_desk - PAGES.keys() == NO_PAGE.keys()


@pytest.mark.parametrize("pattern", sorted(PAGES.keys() & {route.pattern for route in all_routes()}))
def test_a_page_is_what_it_is_told_to_be(desk: Desk, pattern: str) -> None:
    paths = [desk.path(shown.address).split("?")[0] for shown in PAGES[pattern] if shown.then is None]

    assert {get_resolver().resolve(path).route for path in paths} <= {pattern}


@every_page
def test_nothing_stands_in_the_way_of_little_sight_or_none_and_nothing_moves(visitor: Visitor, shown: Shown) -> None:
    page = visitor.show(shown)
    unfold(page)

    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        keep_picture(page, f"{shown.name}, {scheme}")
        results = Axe().run(page, options=ALL_RULES)
        assert results.violations_count == 0, f"{scheme}: {results.generate_report()}"
    assert page.evaluate(MOVING) == []


@every_page
def test_a_phone_shows_all_of_it_with_room_for_a_thumb(visitor: Visitor, shown: Shown) -> None:
    page = visitor.show(shown, **PHONE)
    keep_picture(page, f"{shown.name}, phone")

    folded, results = page.evaluate(TOO_WIDE), Axe().run(page, options=TARGET_SIZE)
    unfold(page)
    unfolded = page.evaluate(TOO_WIDE)

    assert (folded, unfolded) == (0, 0)
    assert results.violations_count == 0, results.generate_report()


def test_a_page_that_is_in_the_way_would_be_found(visitor: Visitor) -> None:
    page = visitor.open("/clients/", **PHONE)

    page.evaluate(f"document.querySelector('main').insertAdjacentHTML('beforeend', {BROAD_WITHOUT_WORDS!r})")

    assert [finding["id"] for finding in Axe().run(page).response["violations"]] == ["image-alt"]
    assert page.evaluate(TOO_WIDE) > 0


def test_a_target_that_is_too_small_and_a_thing_that_moves_would_be_found(visitor: Visitor) -> None:
    page = visitor.open("/clients/")

    page.evaluate(f"document.querySelector('main').insertAdjacentHTML('beforeend', {TWO_BUTTONS!r})")
    page.evaluate("document.querySelectorAll('main > button').forEach((one) => { one.style.cssText = 'padding: 0' })")
    page.evaluate("document.querySelector('h1').style.cssText = 'scroll-behavior: smooth !important'")

    assert Axe().run(page, options=TARGET_SIZE).violations_count == 1
    assert len(page.evaluate(MOVING)) == 1


def test_a_script_or_a_file_from_elsewhere_would_be_found(visitor: Visitor) -> None:
    page = visitor.open("/clients/")

    page.evaluate("""() => {
        document.head.append(Object.assign(document.createElement("script"), { textContent: "window.ran = true" }));
        const pixel = { src: "http://127.0.0.2:9/pixel.png", alt: "" };
        document.body.append(Object.assign(document.createElement("img"), pixel));
    }""")
    page.locator("img[src*=pixel]").evaluate("(image) => image.decode().catch(() => null)")

    faults, visitor.faults = visitor.faults, []
    assert page.evaluate("window.ran") is None
    assert any("script-src" in fault for fault in faults)
    assert any("img-src" in fault for fault in faults)
