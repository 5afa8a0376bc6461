"""A file in a real browser: handed in, mended, loaded and undone, by keyboard, with the script and without it."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.studio import Desk
from tests.browser.visiting import Visitor

# Pain belongs into the first row of its session, which this row is not.
MENDS = {"reps": "10", "load": "20", "pain": ""}
PEOPLE = {"name": "new people.csv", "mimeType": "text/csv", "buffer": b"client,joined_on\nzed,2026-04-01\n"}
DROP = """([name, text]) => {
  const data = new DataTransfer();
  data.items.add(new File([text], name, { type: "text/csv" }));
  return data;
}"""


def mend(page: Page) -> None:
    for column, text in MENDS.items():
        page.locator(f".mending [name^='cell-'][name$='-{column}']").fill(text)
    page.locator(".mending [aria-invalid]").first.press("Enter")


@pytest.mark.parametrize("has_script", [True, False])
def test_a_file_is_mended_loaded_and_undone(browser: Browser, fresh_desk: Desk, has_script: bool) -> None:
    with Visitor(browser, fresh_desk) as visitor:
        page = visitor.open("/files/{handed_in}/", java_script_enabled=has_script)
        expect(page.locator("td.faulty")).to_have_count(3)

        mend(page)
        page.get_by_role("button", name=re.compile(r"^Load \d")).press("Enter")
        page.get_by_role("link", name="Undo this load").press("Enter")
        page.get_by_role("button", name="Undo the whole load").press("Enter")

        expect(page.get_by_text("the record stands as if it had never been loaded").first).to_be_visible()


def test_files_are_dropped_onto_the_page(browser: Browser, fresh_desk: Desk) -> None:
    with Visitor(browser, fresh_desk) as visitor:
        page = visitor.open("/files/")
        dropped = page.evaluate_handle(DROP, [PEOPLE["name"], PEOPLE["buffer"].decode()])

        page.dispatch_event(".drop", "drop", {"dataTransfer": dropped})

        expect(page.get_by_role("heading", name="new people.csv")).to_be_visible()
        expect(page.get_by_text("1 row, all good.")).to_be_visible()


def test_without_a_connection_what_was_typed_is_still_there(browser: Browser, fresh_desk: Desk) -> None:
    visitor = Visitor(browser, fresh_desk)
    page = visitor.open("/files/{handed_in}/")
    field = page.locator(".mending [aria-invalid]").first
    field.fill("7")

    page.context.set_offline(True)
    field.press("Enter")

    expect(page.locator(".mend-all .progress")).to_contain_text("What you entered is still here.")
    expect(field).to_have_value("7")
    page.context.close()
