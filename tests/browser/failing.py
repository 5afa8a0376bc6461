"""The product's addresses, and pages that fail on purpose: so that each error page can be looked at."""

from __future__ import annotations

import sqlite3
from typing import NoReturn

from django.core.exceptions import PermissionDenied, SuspiciousOperation
from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse
from django.urls import path

from coaching.urls import urlpatterns as of_the_product


def senseless(request: HttpRequest) -> HttpResponse:
    raise SuspiciousOperation("on purpose")


def forbidden(request: HttpRequest) -> HttpResponse:
    raise PermissionDenied("on purpose")


def broken(request: HttpRequest) -> HttpResponse:
    raise RuntimeError("on purpose")


def disk_full(request: HttpRequest) -> HttpResponse:
    raise_from(sqlite3.SQLITE_FULL)


def damaged(request: HttpRequest) -> HttpResponse:
    raise_from(sqlite3.SQLITE_CORRUPT)


def raise_from(code: int) -> NoReturn:
    cause = sqlite3.OperationalError("on purpose")
    cause.sqlite_errorcode = code
    raise DatabaseError("on purpose") from cause


urlpatterns = [
    path("failing/507/", disk_full),
    path("failing/503/", damaged),
    path("failing/400/", senseless),
    path("failing/403/", forbidden),
    path("failing/500/", broken),
    *of_the_product,
]
