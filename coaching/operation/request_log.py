"""One line for each request: which page, by whose account, with what status, how long it took."""

from __future__ import annotations

import time
import uuid
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils.functional import LazyObject, empty
from django_structlog.middlewares import RequestMiddleware
from structlog.contextvars import bind_contextvars, clear_contextvars

# Asked for every few seconds by machines; only their failures are worth a line.
NOT_WRITTEN_DOWN = {"healthz", "readyz", "metrics"}
LEAST_WORTH_A_LINE = 400


class RequestLog(RequestMiddleware):
    """Names pages by their route: the address itself may hold a person's id, a search or the key to a new password."""

    def prepare(self, request: HttpRequest) -> None:
        clear_contextvars()
        request.request_id = uuid.uuid4().hex  # type: ignore[attr-defined]
        request.begun_at = time.perf_counter()  # type: ignore[attr-defined]
        bind_contextvars(request_id=request.request_id)  # type: ignore[attr-defined]

    def handle_response(self, request: HttpRequest, response: HttpResponse) -> None:
        response.headers["X-Request-ID"] = request.request_id  # type: ignore[attr-defined]
        if _route_name(request) in NOT_WRITTEN_DOWN and response.status_code < LEAST_WORTH_A_LINE:
            clear_contextvars()
            return
        self._bind_duration(request)
        super().handle_response(request, response)

    def _process_exception(self, request: HttpRequest, exception: Exception) -> None:
        self._bind_duration(request)
        super()._process_exception(request, exception)

    @staticmethod
    def _bind_duration(request: HttpRequest) -> None:
        begun_at: float = request.begun_at  # type: ignore[attr-defined]
        bind_contextvars(duration_ms=round((time.perf_counter() - begun_at) * 1000, 1))

    @staticmethod
    def format_request(request: HttpRequest) -> str:
        match = request.resolver_match
        return f"{request.method} {'/' + match.route if match else 'nowhere'}"

    @staticmethod
    def bind_user_id(request: HttpRequest) -> None:
        """Whoever the page has asked for already: writing a line is no reason to ask the database."""
        user: Any = getattr(request, "user", None)
        if user is None or (isinstance(user, LazyObject) and user._wrapped is empty):
            return
        if user.pk is not None:
            bind_contextvars(user_id=user.pk)


def _route_name(request: HttpRequest) -> str | None:
    return request.resolver_match.url_name if request.resolver_match else None
