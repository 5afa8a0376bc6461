"""The description of the interface, arranged for a page: read from OpenAPI, so that both say the same."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

Schema = dict[str, Any]
_TYPES = {"date": "day", "uuid": "id", "date-time": "instant", "uri": "address"}


@dataclass(frozen=True)
class Member:
    """A parameter, or a member of a body or an answer."""

    name: str
    kind: str
    words: str
    is_needed: bool = False
    members: tuple[Member, ...] = ()


@dataclass(frozen=True)
class Operation:
    method: str
    path: str
    anchor: str
    summary: str
    words: str
    parameters: list[Member]
    body: list[Member]
    body_example: str
    members: list[Member]
    example: str
    # Status and when it is met.
    answers: list[tuple[str, str]]


def operations(description: Schema) -> list[Operation]:
    found = []
    for path, of_path in description["paths"].items():
        for method, one in of_path.items():
            found.append(_operation(description, path, method, one))
    return found


def _operation(description: Schema, path: str, method: str, one: Schema) -> Operation:
    body = one.get("requestBody", {}).get("content", {}).get("application/json", {})
    answer = one["responses"]["200"]["content"]["application/json"]
    return Operation(
        method=method.upper(), path=path, anchor=one["operationId"], summary=one["summary"], words=one["description"],
        parameters=[_parameter(parameter) for parameter in one.get("parameters", [])],
        body=list(_members(description, body.get("schema", {}))), body_example=_example(body),
        members=list(_members(description, answer["schema"])), example=_example(answer),
        answers=[(status, answer["description"]) for status, answer in one["responses"].items()],
    )


def _parameter(parameter: Schema) -> Member:
    return Member(
        parameter["name"], _kind(parameter["schema"]), parameter["description"], parameter.get("required", False)
    )


def _members(description: Schema, schema: Schema) -> Iterator[Member]:
    whole = _resolved(description, schema)
    for name, member in whole.get("properties", {}).items():
        inner = _resolved(description, member.get("items", {}))
        yield Member(
            name, _kind(_resolved(description, member)), member.get("description", ""),
            name in whole.get("required", ()), tuple(_members(description, inner)),
        )


def _resolved(description: Schema, schema: Schema) -> Schema:
    """The schema itself, whatever stands for it by name."""
    if "allOf" in schema:
        return _resolved(description, schema["allOf"][0])
    if "$ref" not in schema:
        return schema
    found: Schema = description["components"]["schemas"][schema["$ref"].rsplit("/", 1)[1]]
    return found


def _kind(schema: Schema) -> str:
    """In words: what it is, and its values where they are few."""
    if "enum" in schema:
        return ", ".join(str(value) for value in schema["enum"])
    types = schema.get("type", "object")
    names = types if isinstance(types, list) else [types]
    words = [_TYPES.get(schema.get("format", ""), "text") if name == "string" else name for name in names]
    of = schema.get("items", {}).get("enum")
    return " or ".join(words) + (f" of {', '.join(of)}" if of else "")


def _example(content: Schema) -> str:
    for example in content.get("examples", {}).values():
        return json.dumps(example["value"], indent=2, ensure_ascii=False)
    return ""
