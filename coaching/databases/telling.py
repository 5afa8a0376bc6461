"""What is answered when the database failed: a page that needs none itself, and a problem detail under /api/.

ASVS 5.0 16.5.1, 16.5.2 and 16.5.3: words without innards, what still works goes on, and nothing passes as kept.
"""

from __future__ import annotations

from collections.abc import Callable

import structlog
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.template.loader import get_template

from coaching.databases.faults import DatabaseFault, find_fault

UNDER = "/api/"
PROBLEM = "application/problem+json"
logger = structlog.stdlib.get_logger(__name__)


class TellDatabaseFaults:
    """For what views meet; what is met around them comes to the handler of the site."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        fault = find_fault(error)
        return None if fault is None else answer_with(request, fault)


def answer_with(request: HttpRequest, fault: DatabaseFault) -> HttpResponse:
    told = fault.value
    logger.error("database fault", fault=told.name)
    if request.path.startswith(UNDER):
        answer: HttpResponse = JsonResponse(_problem(fault), status=told.status, content_type=PROBLEM)
    else:
        # Without the request: who is signed in is in the database.
        page = get_template("database_fault.html").render({"told": told, "was_sent": request.method == "POST"})
        answer = HttpResponse(page, status=told.status)
    if told.goes_by_itself_after_s is not None:
        answer.headers["Retry-After"] = str(told.goes_by_itself_after_s)
    return answer


def _problem(fault: DatabaseFault) -> dict[str, str | int]:
    told = fault.value
    return {"type": f"{UNDER}v1/docs/#{told.name}", "title": told.title, "status": told.status, "detail": told.words}
