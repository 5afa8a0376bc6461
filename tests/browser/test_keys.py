"""Every page by keyboard: where the focus goes, and that it is seen."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.pages import Shown, all_shown
from tests.browser.visiting import Visitor

MOST_STOPS = 40
STOP = """
() => {
  const here = document.activeElement;
  if (here === document.body) return null;
  const style = getComputedStyle(here), box = here.getBoundingClientRect();
  // The middle of what is in sight of it.
  const middle = (from, to, end) => (Math.max(from, 0) + Math.min(to, end)) / 2;
  const [x, y] = [middle(box.left, box.right, innerWidth), middle(box.top, box.bottom, innerHeight)];
  const over = document.elementFromPoint(x, y);
  const all = [...document.querySelectorAll("*")];
  return {
    position: all.indexOf(here),
    name: `${here.localName} ${(here.innerText || here.name || "").slice(0, 40)}`,
    isRinged: style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2,
    isCovered: !over || !(here.contains(over) || over.contains(here)),
  };
}
"""
every_page = pytest.mark.parametrize("shown", all_shown(), ids=lambda shown: shown.name)


def stops_of(page: Page) -> list[dict[str, Any]]:
    """What the tab key leads to, one after the other, up to the end of the page or for long enough."""
    stops = []
    for _ in range(MOST_STOPS):
        page.keyboard.press("Tab")
        stop = page.evaluate(STOP)
        if stop is None or (stops and stop["position"] == stops[0]["position"]):
            break
        stops.append(stop)
    return stops


@every_page
def test_the_focus_goes_down_the_page_and_is_always_seen(visitor: Visitor, shown: Shown) -> None:
    page = visitor.show(shown)
    page.evaluate("document.activeElement.blur()")

    stops = stops_of(page)

    positions = [stop["position"] for stop in stops]
    assert positions == sorted(positions)
    assert stops[0]["name"] == "a Skip to the page" or page.locator("[autofocus]").count()
    assert [stop["name"] for stop in stops if not stop["isRinged"] or stop["isCovered"]] == []


def test_a_focus_that_is_not_seen_would_be_found(visitor: Visitor) -> None:
    page = visitor.open("/clients/")
    page.evaluate("document.querySelector('.bar .name').style.outline = 'none'")

    assert [stop["name"] for stop in stops_of(page) if not stop["isRinged"]] == ["a Muster"]


def test_the_first_stop_leads_past_the_bar(visitor: Visitor) -> None:
    page = visitor.open("/?whose=all")

    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Skip to the page")).to_be_in_viewport()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")

    assert page.evaluate("document.querySelector('main').contains(document.activeElement)")
