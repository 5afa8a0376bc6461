"""How far something has come that a page waits for, where another request can read it.

In a file, for the embedded database lets nobody else write while a load does. Without one, the page waits in silence.
"""

from __future__ import annotations

import json
import time
from contextlib import suppress
from pathlib import Path
from typing import Any, Self
from uuid import UUID

from django.conf import settings

from roster.people.models import Coach

SECONDS_BETWEEN = 0.2
# Left behind by something that was cut off.
STALE_AFTER_SECONDS = 3600


class PageProgress:
    def __init__(self, coach: Coach, token: UUID | None) -> None:
        self.path = None if token is None else _path(coach, token)
        self.told_at: float | None = None
        self.told_what = ""

    def __enter__(self) -> Self:
        if self.path:
            with suppress(OSError):
                self.path.parent.mkdir(parents=True, exist_ok=True)
        return self

    def __exit__(self, *_: object) -> None:
        if self.path:
            with suppress(OSError):
                self.path.unlink()

    def __call__(self, what: str, count: int) -> None:
        if self.path is None or not self._is_due(what):
            return
        self.told_at, self.told_what = time.monotonic(), what
        with suppress(OSError):
            half = self.path.with_suffix(".half")
            half.write_text(json.dumps({"what": what, "count": count}))
            half.replace(self.path)

    def _is_due(self, what: str) -> bool:
        return self.told_at is None or what != self.told_what or time.monotonic() - self.told_at >= SECONDS_BETWEEN


def read_progress(coach: Coach, token: UUID) -> dict[str, Any]:
    """What was told last, as "what" and "count"; empty before it begins and when it is over."""
    try:
        told: dict[str, Any] = json.loads(_path(coach, token).read_text())
    except (OSError, ValueError):
        return {}
    return told


def forget_stale(now: float) -> None:
    for path in _directory().glob("*.*"):
        with suppress(OSError):
            if path.stat().st_mtime < now - STALE_AFTER_SECONDS:
                path.unlink()


def _path(coach: Coach, token: UUID) -> Path:
    """Within what belongs to the person: nobody else's token leads to it."""
    return _directory() / f"{coach.pk}-{token}.json"


def _directory() -> Path:
    return Path(settings.HOME_DIR) / "progress"
