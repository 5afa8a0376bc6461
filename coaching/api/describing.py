"""How each view describes itself in OpenAPI: its parameters, its answers and every fault, with examples."""

from __future__ import annotations

from typing import Any

from django_filters import BooleanFilter, MultipleChoiceFilter, TypedChoiceFilter, UUIDFilter
from django_filters.filters import Filter
from drf_spectacular.extensions import OpenApiAuthenticationExtension
from drf_spectacular.openapi import AutoSchema
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiExample, OpenApiParameter, OpenApiResponse
from rest_framework import serializers

from coaching.api.answering import ListOf, page_shape
from coaching.api.parameters import DayFilter, WeekFilter
from coaching.api.problems import MEDIA_TYPE, PROBLEMS, problem_of
from coaching.api.questions import MOST_ROWS_A_PAGE, ROWS_A_PAGE

SOME_ETAG = '"0f9b1f0c5a1e4a7c8e7d6c5b4a392817"'
SOME_ID = "6f0c8a52-3a8e-4b0e-9a55-0d2f6c1c7e11"
READ_FAULTS = (400, 401, 403, 404, 405, 406, 429, 500, 503, 507)
ACT_FAULTS = (400, 401, 403, 404, 405, 406, 412, 413, 415, 422, 428, 429, 500, 503, 507)


class FaultRow(serializers.Serializer[Any]):
    detail = serializers.CharField(help_text="What was wrong.")
    parameter = serializers.CharField(required=False, help_text="With which parameter of the address.")
    pointer = serializers.CharField(required=False, help_text="With which member of the body, as a JSON pointer.")


class ProblemRow(serializers.Serializer[Any]):
    type = serializers.CharField(help_text="Which kind of fault, as an address of these documents.")
    title = serializers.CharField(help_text="That kind in words.")
    status = serializers.IntegerField(help_text="The status of the answer.")
    detail = serializers.CharField(help_text="What was wrong here.")
    errors = FaultRow(many=True, required=False, help_text="Each single fault.")


class Described(AutoSchema):
    def get_operation_id(self) -> str:
        verb = {"GET": "list" if self._is_list else "read", "POST": "act"}[self.method]
        words = [part for part in self.path.split("/")[3:] if part and "{" not in part]
        return "_".join([verb, *words] if words else [verb, "root"]).replace("-", "_")

    def get_tags(self) -> list[str]:
        return [getattr(self.view, "name", "") or "description"]

    def get_summary(self) -> str:
        return str(self.view.summary)

    def get_description(self) -> str:
        return str(type(self.view).__doc__ or self.view.summary) if self.method == "POST" else str(self.view.summary)

    def get_request_serializer(self) -> Any:
        return self.view.body if self.method == "POST" else None

    def get_response_serializers(self) -> Any:
        answers: dict[Any, Any] = {200: self._answer()}
        if self.method == "GET":
            answers[304] = OpenApiResponse(description="You have that very content already; no body.")
        faults = ACT_FAULTS if self.method == "POST" else READ_FAULTS
        return answers | {(status, MEDIA_TYPE): _fault(status) for status in faults}

    def get_examples(self) -> list[OpenApiExample]:
        body = getattr(self.view, "body_example", None)
        return [OpenApiExample("Such as", value=body, request_only=True)] if body else []

    def get_override_parameters(self) -> list[OpenApiParameter]:
        found = [] if "{" not in self.path else [_parameter("public_id", "The row's id.", OpenApiTypes.UUID, "path")]
        if self.method == "POST":
            return [*found, _header("If-Match", "The ETag of the finding as you read it.", required=True)]
        if self._is_list:
            found += [_filter(name, one) for name, one in self.view.filters.base_filters.items()]
            found += [_LIMIT, _CURSOR]
        if self.view.takes_as_of:
            found.append(_AS_OF)
        return [*found, _header("If-None-Match", "The ETag of what you have: 304 if it is still that.")]

    @property
    def _is_list(self) -> bool:
        return isinstance(self.view, ListOf)

    def _is_list_view(self, serializer: Any = None) -> bool:
        return False

    def _answer(self) -> OpenApiResponse:
        shape, example = self.view.shape, self.view.example
        if self._is_list:
            shape, example = page_shape(shape), {"next": None, "results": [example]}
        return OpenApiResponse(shape, description=self.view.summary, examples=[OpenApiExample("Such as", example)])


def _fault(status: int) -> OpenApiResponse:
    problem = PROBLEMS[status]
    example = OpenApiExample(problem.title, problem_of(status, problem.when), media_type=MEDIA_TYPE)
    return OpenApiResponse(ProblemRow, description=problem.when, examples=[example])


def _parameter(name: str, words: str, kind: Any, where: str = "query", example: Any = None, **more: Any) -> Any:
    examples = [OpenApiExample("Such as", example if example is not None else SOME_ID)]
    return OpenApiParameter(name, kind, where, required=where == "path", description=words, examples=examples, **more)


def _header(name: str, words: str, *, required: bool = False) -> OpenApiParameter:
    example = OpenApiExample("Such as", SOME_ETAG)
    return OpenApiParameter(name, str, "header", required=required, description=words, examples=[example])


def _filter(name: str, one: Filter) -> OpenApiParameter:
    words = one.extra["help_text"]
    match one:
        case MultipleChoiceFilter():
            values = [value for value, _ in one.extra["choices"]]
            return _parameter(name, words, str, enum=values, many=True, example=[values[0]])
        case TypedChoiceFilter() | BooleanFilter():
            return _parameter(name, words, bool, example=True)
        case UUIDFilter():
            return _parameter(name, words, OpenApiTypes.UUID)
        case DayFilter():
            return _parameter(name, words, OpenApiTypes.DATE, example="2026-04-01")
        case WeekFilter():
            return _parameter(name, words, {"type": "string", "pattern": r"^\d{4}-W\d{2}$"}, example="2026-W14")
    kind = {"type": "string", "minLength": 1, "maxLength": one.extra["max_length"]}
    return _parameter(name, words, kind, example="finn")


_LIMIT = _parameter(
    "limit", "Rows a page.",
    {"type": "integer", "minimum": 1, "maximum": MOST_ROWS_A_PAGE, "default": ROWS_A_PAGE}, example=50,
)
_CURSOR = _parameter("cursor", "Where the page begins, from the address in `next`.", str, example="WyJzIl0:1uX:abc")
_AS_OF = _parameter(
    "as_of", "The day as at which to tell it, today at the latest; left out, today in each client's zone.",
    OpenApiTypes.DATE, example="2026-04-03",
)


class TokenInTheHeader(OpenApiAuthenticationExtension):
    target_class = "coaching.api.authentication.ByToken"
    name = "token"

    def get_security_definition(self, auto_schema: AutoSchema) -> dict[str, str]:
        return {"type": "http", "scheme": "bearer", "description": "A token, made under Your account."}


class SessionOfTheDesk(OpenApiAuthenticationExtension):
    target_class = "coaching.api.authentication.BySession"
    name = "session"

    def get_security_definition(self, auto_schema: AutoSchema) -> dict[str, str]:
        return {
            "type": "apiKey", "in": "cookie", "name": "sessionid",
            "description": "The session of the desk; acts need its CSRF token as X-CSRFToken too.",
        }


def only_the_interface(endpoints: list[Any]) -> list[Any]:
    return [one for one in endpoints if one[0].startswith("/api/v1/")]


def bodies_take_no_other_members(result: dict[str, Any], **_: Any) -> dict[str, Any]:
    for of_path in result["paths"].values():
        for one in of_path.values():
            for content in one.get("requestBody", {}).get("content", {}).values():
                name = content["schema"]["$ref"].rsplit("/", 1)[1]
                result["components"]["schemas"][name]["additionalProperties"] = False
    return result
