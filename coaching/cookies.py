"""How cookies are called: over HTTPS by a name that a browser takes from this very host alone."""

from __future__ import annotations

from django.conf import settings
from django.contrib.messages.storage.cookie import CookieStorage
from django.contrib.messages.storage.fallback import FallbackStorage
from django.contrib.messages.storage.session import SessionStorage


def bound_to_host(name: str) -> str:
    return f"__Host-{name}" if settings.SESSION_COOKIE_SECURE else name


class BoundCookieStorage(CookieStorage):
    @property
    def cookie_name(self) -> str:
        return bound_to_host("messages")


class MessageStorage(FallbackStorage):
    """What is told once, on the next page, in a cookie; in the session where it is too long for one."""

    storage_classes = (BoundCookieStorage, SessionStorage)
