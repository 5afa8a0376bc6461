from __future__ import annotations

from typing import ClassVar

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.urls import resolve
from django.views.decorators.csrf import csrf_exempt
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.reverse import reverse

from coaching.api.answering import Answering
from coaching.api.fields import RowOf, rows, text
from coaching.api.problems import NOTHING_HERE, plain_problem
from coaching.api.questions import check_names
from coaching.monitoring.fact_shapes import Row

NAMES = (
    "clients", "exercises", "blocks", "planned-sessions", "session-logs", "weeks", "exposures", "flags", "turnout",
    "check-in-packs",
)  # fmt: skip


class ResourceRow(RowOf):
    name = text("What is listed there.")
    address = text("Where.")


class RootRow(RowOf):
    resources = rows(ResourceRow, "What there is.")
    description = text("Where this is described in OpenAPI.")


class Root(Answering):
    summary, shape, takes_as_of = "What there is.", RootRow, False
    example: ClassVar[Row] = {
        "resources": [{"name": "clients", "address": "https://desk.example.org/api/v1/clients/"}],
        "description": "https://desk.example.org/api/v1/schema/",
    }

    def get(self, request: Request) -> Response:
        check_names(request, set())
        listed = [{"name": name, "address": reverse(f"api:{name}", request=request)} for name in NAMES]
        return Response(self.shown({"resources": listed, "description": reverse("api:schema", request=request)}))


@csrf_exempt
def nothing_here(request: HttpRequest, rest: str = "") -> HttpResponse:
    """Whatever else is asked for under /api/; an address that lacks its last slash is led on."""
    with_slash = f"{request.path}/"
    if rest and not rest.endswith("/") and resolve(with_slash).func is not nothing_here:
        query = request.META.get("QUERY_STRING", "")
        return HttpResponseRedirect(f"{with_slash}?{query}" if query else with_slash, preserve_request=True)
    return plain_problem(request, 404, NOTHING_HERE)
