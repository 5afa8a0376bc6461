"""Every fault as a problem detail (RFC 9457): of what kind, what was wrong here, and with which member or parameter."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from rest_framework import exceptions
from rest_framework.response import Response

from coaching.databases.faults import DatabaseFault
from coaching.monitoring.acts import ActRefused

MEDIA_TYPE = "application/problem+json"
NOTHING_HERE = "There is nothing here that you can see."
DOCUMENTS = "/api/v1/docs/"


class Problem(NamedTuple):
    """A kind of fault: its name in the documents, its title, and when it is met."""

    name: str
    title: str
    when: str


def _of_the_database(fault: DatabaseFault) -> Problem:
    return Problem(fault.value.name, fault.value.title, fault.value.words)


PROBLEMS: dict[int, Problem] = {
    400: Problem("invalid", "Invalid request", "A parameter or a member of the body is not as described."),
    401: Problem("not-signed-in", "Not signed in", "No token or session, or one that is over."),
    403: Problem("not-allowed", "Not allowed", "The token lacks the scope; or a session sent no CSRF token."),
    404: Problem("nothing-here", "Nothing here", "It does not exist, or is nobody's whom you may see or change."),
    405: Problem("wrong-method", "Wrong method", "This address does not take that method; Allow says which it does."),
    406: Problem("not-acceptable", "Not acceptable", "Only JSON is spoken here."),
    412: Problem("stale", "Changed meanwhile", "The finding is not the one that If-Match names: read it again."),
    413: Problem("too-large", "Too large", "The body is larger than any act needs."),
    415: Problem("not-json", "Not JSON", "The body has another media type than application/json."),
    422: Problem("refused", "Refused", "Understood, but not allowed: the detail says why."),
    428: Problem("if-match-missing", "If-Match is missing", "An act says with If-Match which state it is about."),
    429: Problem("too-many", "Too many requests", "Wait as many seconds as Retry-After says."),
    500: Problem("our-fault", "Our fault", "Something failed here. Nothing was changed."),
    503: _of_the_database(DatabaseFault.UNREACHABLE),
    507: _of_the_database(DatabaseFault.FULL),
}
# Of one status there may be several kinds.
_OTHERS = [(fault.value.status, _of_the_database(fault)) for fault in DatabaseFault]
ALL_PROBLEMS = [*PROBLEMS.items(), *(one for one in _OTHERS if one not in PROBLEMS.items())]


class Stale(exceptions.APIException):
    status_code = 412
    default_detail = "It has changed since you read it. Read it again and decide anew."


class IfMatchMissing(exceptions.APIException):
    status_code = 428
    default_detail = "Send the ETag of the finding that you read as If-Match."


class Refused(exceptions.APIException):
    status_code = 422


class ParameterRefused(exceptions.ValidationError):
    """One or more parameters of the address, by name."""

    def __init__(self, faults: dict[str, list[str]]) -> None:
        super().__init__(faults)


def problem_of(status: int, detail: str, errors: list[dict[str, str]] | None = None) -> dict[str, Any]:
    problem = PROBLEMS[status]
    body: dict[str, Any] = {
        "type": f"{DOCUMENTS}#{problem.name}", "title": problem.title, "status": status, "detail": detail,
    }
    return body | ({"errors": errors} if errors else {})


def answer_fault(fault: Exception, context: dict[str, Any]) -> Response | None:
    """What the framework asks of every exception in a view; what it does not know becomes a 500 elsewhere."""
    known = _known(fault)
    if known is None:
        return None
    errors = list(_errors(known)) if isinstance(known, exceptions.ValidationError) else None
    detail = "Something in the request is not as described." if errors else str(known.detail)
    answer = Response(
        problem_of(known.status_code, detail, errors), status=known.status_code, content_type=MEDIA_TYPE
    )
    if getattr(known, "auth_header", None):
        answer.headers["WWW-Authenticate"] = known.auth_header
    if getattr(known, "wait", None):
        answer.headers["Retry-After"] = str(int(known.wait) + 1)
    return answer


def _known(fault: Exception) -> exceptions.APIException | None:
    match fault:
        case Http404() | exceptions.NotFound():
            return exceptions.NotFound(NOTHING_HERE)
        case PermissionDenied():
            return exceptions.PermissionDenied()
        case ActRefused():
            return Refused(str(fault))
        case exceptions.APIException():
            return fault
    return None


def _errors(fault: exceptions.ValidationError) -> Iterator[dict[str, str]]:
    where = "parameter" if isinstance(fault, ParameterRefused) else "pointer"
    faults = fault.detail if isinstance(fault.detail, dict) else {"": fault.detail}
    for name, details in faults.items():
        is_whole = name in ("", "non_field_errors")
        place = name if where == "parameter" else ("#" if is_whole else f"#/{name}")
        for detail in details if isinstance(details, list) else [details]:
            yield {"detail": str(detail), where: place}


def plain_problem(request: HttpRequest, status: int, detail: str) -> HttpResponse:
    """For faults that come before or beyond the views of the interface."""
    return JsonResponse(problem_of(status, detail), status=status, content_type=MEDIA_TYPE)
