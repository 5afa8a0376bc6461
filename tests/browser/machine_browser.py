"""The browser of this machine, and how it is started."""

from __future__ import annotations

import shutil
from typing import Any

# Debian's name first: its browser needs nothing that a package index would have to bring.
NAMES = ("chromium", "chromium-browser", "google-chrome")
QUIETLY = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip


def find_browser() -> str | None:
    return next((path for name in NAMES if (path := shutil.which(name))), None)


def launch_options() -> dict[str, Any]:
    return {"executable_path": find_browser(), "args": QUIETLY}
