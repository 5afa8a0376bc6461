"""Takes the README's pictures anew, of the demo's studio as on the Wednesday that tests look at.

  python -m tests.browser.pictures
"""

from __future__ import annotations

import os
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

import django
from playwright.sync_api import sync_playwright

from tests.browser.machine_browser import launch_options
from tests.browser.studio import made_studio, served
from tests.repository import ROOT

if TYPE_CHECKING:
    from tests.browser.visiting import Visitor

# As many as the demo has.
CLIENTS, WEEKS = 36, 26
SCREEN = {"viewport": {"width": 1280, "height": 860}}
PICTURES = {
    "morning": ("/?whose=all", SCREEN),
    "turnout": ("/turnout/?whose=all", SCREEN),
    "story": ("/clients/{stalled}/", {"viewport": {"width": 1280, "height": 1500}}),
    "pack": ("/clients/{stalled}/pack/", {"viewport": {"width": 1280, "height": 1500}}),
    "phone": ("/?whose=all", {"viewport": {"width": 390, "height": 844}, "is_mobile": True, "color_scheme": "dark"}),
}


def _take_pictures(visitor: Visitor, directory: Path) -> None:
    for name, (address, options) in PICTURES.items():
        page = visitor.open(address, **options)
        page.locator("[data-figure]:visible:not([data-drawn])").first.wait_for(state="detached")
        page.screenshot(path=directory / f"{name}.png")


def main() -> None:
    os.environ.update(DJANGO_ALLOW_ASYNC_UNSAFE="1", DJANGO_SETTINGS_MODULE="tests.browser.settings")
    django.setup()
    from tests.browser.visiting import Visitor

    with TemporaryDirectory() as folder, sync_playwright() as playwright:
        studio = made_studio(Path(folder), "pictures", CLIENTS, WEEKS)
        browser = playwright.chromium.launch(**launch_options())
        with served(studio, Path(folder) / "copy", "served") as desk, Visitor(browser, desk) as visitor:
            _take_pictures(visitor, ROOT / "fixtures" / "pictures")
        browser.close()


if __name__ == "__main__":
    main()
