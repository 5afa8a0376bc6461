"""The interface's description in OpenAPI 3.1, made once a process."""

from __future__ import annotations

from functools import cache
from typing import Any

from drf_spectacular.generators import SchemaGenerator
from rest_framework.request import Request
from rest_framework.response import Response

from coaching.api.answering import Answering
from coaching.api.questions import check_names


@cache
def describe() -> dict[str, Any]:
    return dict(SchemaGenerator().get_schema(public=True))


class Description(Answering):
    schema = None

    def get(self, request: Request) -> Response:
        check_names(request, set())
        return Response(describe())
