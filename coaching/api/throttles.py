"""How much one token, or one person, may ask in a minute; counted where all processes share."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from django.core.cache import cache
from rest_framework.permissions import SAFE_METHODS
from rest_framework.request import Request
from rest_framework.throttling import BaseThrottle

if TYPE_CHECKING:
    # The framework's views themselves ask for what is defined here.
    from rest_framework.views import APIView

WINDOW_S = 60
READS_A_WINDOW = 600
ACTS_A_WINDOW = 60


class Throttle(BaseThrottle):
    def allow_request(self, request: Request, view: APIView) -> bool:
        is_read = request.method in SAFE_METHODS
        who = f"token-{request.auth.public_id}" if request.auth else f"coach-{request.user.pk}"
        window = int(time.time()) // WINDOW_S
        key = f"api-{'reads' if is_read else 'acts'}-{who}-{window}"
        return _counted(key) <= (READS_A_WINDOW if is_read else ACTS_A_WINDOW)

    def wait(self) -> float:
        """Seconds until the next window."""
        return WINDOW_S - time.time() % WINDOW_S


def _counted(key: str) -> int:
    """Most requests find their count; the first of a window begins it."""
    try:
        return int(cache.incr(key))
    except ValueError:
        return 1 if cache.add(key, 1, timeout=2 * WINDOW_S) else int(cache.get_or_set(key, 1))
