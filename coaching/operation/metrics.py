"""Who may read what the desk counts: somebody on this very machine, or a program that knows the token.

Behind a proxy every request comes from a machine of one's own, whoever sent it: there the token alone counts.
"""

from __future__ import annotations

from collections.abc import Sequence
from hmac import compare_digest

from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from django.http import HttpRequest

SHORTEST_TOKEN = 32
THIS_MACHINE = {"127.0.0.1", "::1"}
SIGNS_OF_A_PROXY = ("Forwarded", "X-Forwarded-For", "X-Forwarded-Proto", "X-Real-IP")


def counted(middleware: Sequence[str], *, wanted: bool, token: str) -> list[str]:
    """The middleware with what counts requests around it, if that is wanted."""
    if token and len(token) < SHORTEST_TOKEN:
        raise ImproperlyConfigured(f"METRICS_TOKEN is too short: {SHORTEST_TOKEN} random characters at least")
    if not wanted:
        return list(middleware)
    package = "django_prometheus.middleware"
    return [f"{package}.PrometheusBeforeMiddleware", *middleware, f"{package}.PrometheusAfterMiddleware"]


def may_read_metrics(request: HttpRequest) -> bool:
    if not settings.METRICS:
        return False
    given = request.headers.get("Authorization", "")
    if settings.METRICS_TOKEN:
        return compare_digest(given.encode(), f"Bearer {settings.METRICS_TOKEN}".encode())
    return request.META.get("REMOTE_ADDR") in THIS_MACHINE and not _came_through_a_proxy(request)


def _came_through_a_proxy(request: HttpRequest) -> bool:
    return settings.HTTPS or any(name in request.headers for name in SIGNS_OF_A_PROXY)
