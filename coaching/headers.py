"""What every answer tells the browser, beside the headers that the framework sets."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

HEADERS = {
    # A page with people on it stays in no cache, also not for the Back button of whoever comes next.
    "Cache-Control": "no-store",
    "Cross-Origin-Embedder-Policy": "require-corp",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=()",
}


def add_headers(get_response: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    def middleware(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        for name, value in HEADERS.items():
            response.headers.setdefault(name, value)
        return response

    return middleware
