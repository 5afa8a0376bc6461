"""The product's addresses, and pages that fail on purpose: so that each error page can be looked at."""

from __future__ import annotations

from django.core.exceptions import PermissionDenied, SuspiciousOperation
from django.http import HttpRequest, HttpResponse
from django.urls import path

from coaching.urls import urlpatterns as of_the_product


def senseless(request: HttpRequest) -> HttpResponse:
    raise SuspiciousOperation("on purpose")


def forbidden(request: HttpRequest) -> HttpResponse:
    raise PermissionDenied("on purpose")


def broken(request: HttpRequest) -> HttpResponse:
    raise RuntimeError("on purpose")


urlpatterns = [
    path("failing/400/", senseless),
    path("failing/403/", forbidden),
    path("failing/500/", broken),
    *of_the_product,
]
