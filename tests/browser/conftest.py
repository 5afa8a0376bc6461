"""A browser, the desk of a studio to look at, and what a page did wrong while it was looked at."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.machine_browser import find_browser, launch_options
from tests.browser.studio import Desk, Studio, made_studio, served
from tests.browser.visiting import LONGEST_WAIT_MS, Visitor
from tests.machine import leave_out_unless


@pytest.fixture(scope="session", autouse=True)
def _a_browser_is_here() -> None:
    leave_out_unless(find_browser() is not None, "no Chromium on this machine", required_by="MUSTER_BROWSER_REQUIRED")
    # The browser's loop runs beside every test that follows in this process; the database is not spoken to from it.
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"
    expect.set_options(timeout=LONGEST_WAIT_MS)


@pytest.fixture(scope="session")
def browser_type_launch_args(_a_browser_is_here: None) -> dict[str, Any]:
    return launch_options()


@pytest.fixture(scope="session")
def studio(tmp_path_factory: pytest.TempPathFactory, testrun_uid: str, worker_id: str) -> Studio:
    """The demo's, smaller, on a Wednesday in April; made once for all processes of a run."""
    own = tmp_path_factory.getbasetemp()
    return made_studio(own if worker_id == "master" else own.parent, testrun_uid[:12])


@pytest.fixture(scope="session")
def desk(studio: Studio, tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Iterator[Desk]:
    """To look at only: a test that changes anything asks for a `fresh_desk`."""
    with served(studio, tmp_path_factory.mktemp("desk") / "home", worker_id) as desk:
        yield desk


@pytest.fixture
def fresh_desk(studio: Studio, tmp_path: Path, worker_id: str) -> Iterator[Desk]:
    with served(studio, tmp_path / "home", f"{worker_id}_fresh") as desk:
        yield desk


@pytest.fixture
def visitor(browser: Browser, desk: Desk) -> Iterator[Visitor]:
    with Visitor(browser, desk) as visitor:
        yield visitor


@pytest.fixture
def fresh_visitor(browser: Browser, fresh_desk: Desk) -> Iterator[Visitor]:
    with Visitor(browser, fresh_desk) as visitor:
        yield visitor
