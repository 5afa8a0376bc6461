"""Whether the desk can do its work now: each check has a name, and either holds or raises what is wrong.

A further one - how long the oldest message has waited to be sent, once there are messages - is one more function here.
"""

from __future__ import annotations

import logging
import math
import shutil
import time
from collections.abc import Callable, Iterable
from pathlib import Path
from threading import Lock

from django.conf import settings
from django.core.cache import cache
from django.db import connection, transaction

from coaching.databases.waiting import waiting_at_most
from coaching.operation.models import Probe

# A day's logs of a large studio are a few megabytes; the rest is room for a load, its undoing and a checkpoint.
LEAST_FREE_BYTES = 200_000_000
SECONDS_A_PROBE_STAYS = 60
SECONDS_TO_WRITE = 2
# Anybody may ask; asking more often than this writes no more often.
SECONDS_AN_ANSWER_STANDS = 1

logger = logging.getLogger(__name__)


def write_to_the_database() -> None:
    """A row is written and kept, as a log would be; reading alone says nothing about a full disk or a stand-by."""
    with waiting_at_most(SECONDS_TO_WRITE), transaction.atomic():
        Probe.objects.update_or_create(pk=1)


def find_free_disk() -> None:
    for folder in _folders():
        free = shutil.disk_usage(_made(folder)).free
        if free < LEAST_FREE_BYTES:
            raise OSError(f"{free} bytes are free where {LEAST_FREE_BYTES} are needed")


def _folders() -> Iterable[Path]:
    """What Muster writes to on this machine; the disk of a database server is not seen from here."""
    yield settings.HOME_DIR
    if settings.IS_EMBEDDED:
        yield Path(connection.settings_dict["NAME"]).parent


def _made(folder: Path) -> Path:
    """Itself, or the one in which it will be made: beside a database server nothing may have been written here yet."""
    return next(one for one in (folder, *folder.parents) if one.exists())


def share_a_value() -> None:
    """Limits of tries are counted here, by all processes together."""
    cache.set("probe", 1, SECONDS_A_PROBE_STAYS)
    if cache.get("probe") != 1:
        raise OSError("a shared value was not kept")


CHECKS: dict[str, Callable[[], None]] = {
    "database": write_to_the_database,
    "disk": find_free_disk,
    "shared_values": share_a_value,
}


class Readiness:
    """What the checks said last, in this process."""

    def __init__(self, checks: dict[str, Callable[[], None]]) -> None:
        self._checks = checks
        self._held: dict[str, bool] = {}
        self._asked_at = -math.inf
        self._alone = Lock()

    def held(self) -> dict[str, bool]:
        """Whether each holds, by its name; what was wrong goes to the log, not to whoever asked."""
        with self._alone:
            if time.monotonic() - self._asked_at >= SECONDS_AN_ANSWER_STANDS:
                self._held = {name: _holds(name, check) for name, check in self._checks.items()}
                self._asked_at = time.monotonic()
            return self._held


def _holds(name: str, check: Callable[[], None]) -> bool:
    try:
        check()
    except Exception:
        logger.exception("not ready: %s", name)
        return False
    return True
