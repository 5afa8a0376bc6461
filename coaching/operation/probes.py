"""What machines ask is answered before anything else has its say.

Whatever watches over the desk asks by an address of its own, seldom by a name that people use, and wants to know most
of all when nobody can be signed in any more. So neither the name in the request nor a session matters to these pages.
"""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.urls import Resolver404, ResolverMatch, resolve

PAGES = "coaching.operation.urls"


def answer_probes(get_response: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    def middleware(request: HttpRequest) -> HttpResponse:
        match = _probe_at(request.path_info)
        if match is None:
            return get_response(request)
        request.resolver_match = match
        answer: HttpResponse = match.func(request)
        return answer

    return middleware


def _probe_at(path: str) -> ResolverMatch | None:
    try:
        return resolve(path, PAGES)
    except Resolver404:
        return None
