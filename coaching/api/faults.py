"""What the site answers to a fault: a problem detail under /api/, a page elsewhere."""

from __future__ import annotations

import sys

from django.http import HttpRequest, HttpResponse
from django.views import defaults

from coaching.api.problems import NOTHING_HERE, PROBLEMS, plain_problem
from coaching.databases.faults import find_fault
from coaching.databases.telling import UNDER, answer_with


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    if request.path.startswith(UNDER):
        return plain_problem(request, 400, PROBLEMS[400].when)
    return defaults.bad_request(request, exception)


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    if request.path.startswith(UNDER):
        return plain_problem(request, 404, NOTHING_HERE)
    return defaults.page_not_found(request, exception)


def server_error(request: HttpRequest) -> HttpResponse:
    """For whatever nobody else handled; a fault of the database is told as what it is."""
    fault = find_fault(sys.exc_info()[1])
    if fault is not None:
        return answer_with(request, fault)
    if request.path.startswith(UNDER):
        return plain_problem(request, 500, PROBLEMS[500].when)
    return defaults.server_error(request)
