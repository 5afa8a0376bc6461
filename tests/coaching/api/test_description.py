"""The description in OpenAPI: clean, whole, with examples that are as it says; and what is answered is as it says."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from datetime import date, datetime
from typing import Any
from uuid import UUID

import pytest
from django.core.management import call_command
from django.test import Client as Browser

from coaching.api.description import describe
from coaching.api.problems import PROBLEMS
from coaching.databases.faults import DatabaseFault
from roster.people.models import Client, Coach
from tests.coaching.api.programs import Program, problem
from tests.coaching.api.test_lists import fill
from tests.isolation.routes import API

SPEC = describe()
OPERATIONS = [(path, method, one) for path, of_path in SPEC["paths"].items() for method, one in of_path.items()]
IDS = [f"{method} {path}" for path, method, _ in OPERATIONS]
LISTS = [path for path, method, one in OPERATIONS if one["operationId"].startswith("list_")]
TYPES = {
    "string": str, "integer": int, "number": (int, float), "boolean": bool, "array": list, "object": dict,
    "null": type(None),
}  # fmt: skip
FORMATS = {"date": date.fromisoformat, "uuid": UUID, "date-time": datetime.fromisoformat}


def differences(value: Any, schema: dict[str, Any], at: str = "") -> Iterator[str]:
    """Where a value is not as its schema says, members that it does not know included."""
    if "$ref" in schema:
        schema = {**SPEC["components"]["schemas"][schema["$ref"].rsplit("/", 1)[1]], **schema, "$ref": None}
        schema.pop("$ref")
    for part in schema.get("allOf", ()):
        yield from differences(value, part, at)
    types = schema.get("type", [])
    kinds = tuple(TYPES[name] for name in ([types] if isinstance(types, str) else types))
    if kinds and not (isinstance(value, kinds) and (not isinstance(value, bool) or bool in kinds)):
        yield f"{at}: {value!r} is no {types}"
    if value is None:
        return
    if "enum" in schema and value not in schema["enum"]:
        yield f"{at}: {value!r} is none of {schema['enum']}"
    if isinstance(value, str) and schema.get("format") in FORMATS:
        FORMATS[schema["format"]](value)
    for name, inner in (value.items() if isinstance(value, dict) and "properties" in schema else ()):
        if name not in schema["properties"]:
            yield f"{at}.{name} is not described"
        else:
            yield from differences(inner, schema["properties"][name], f"{at}.{name}")
    if isinstance(value, dict):
        yield from (f"{at}.{name} is missing" for name in schema.get("required", ()) if name not in value)
    for inner in value if isinstance(value, list) else ():
        yield from differences(inner, schema["items"], f"{at}[]")


def test_the_description_is_clean(tmp_path: Any) -> None:
    call_command("spectacular", "--validate", "--fail-on-warn", "--file", str(tmp_path / "openapi.yml"))

    assert SPEC["openapi"].startswith("3.1")


def test_every_route_is_described_and_no_other() -> None:
    described = {path.removeprefix("/api/v1/") for path in SPEC["paths"]}

    assert described == {re.sub(r"<uuid:(\w+)>", r"{\1}", pattern) for pattern in API} - {"schema/"}


@pytest.mark.parametrize(("path", "method", "one"), OPERATIONS, ids=IDS)
def test_every_operation_parameter_and_member_has_its_words_and_example(
    path: str, method: str, one: dict[str, Any]
) -> None:
    assert one["summary"].endswith(".")
    for parameter in one["parameters"]:
        assert parameter["description"]
        assert parameter["examples"]
    assert one["responses"]["200"]["content"]["application/json"]["examples"]
    assert method == "get" or one["requestBody"]["content"]["application/json"]["examples"]


@pytest.mark.parametrize("name", SPEC["components"]["schemas"])
def test_every_member_has_its_words(name: str) -> None:
    members = SPEC["components"]["schemas"][name].get("properties", {})

    silent = [member for member, told in members.items() if not told.get("description") and member != "results"]
    assert silent == []


@pytest.mark.parametrize(("path", "method", "one"), OPERATIONS, ids=IDS)
def test_every_fault_is_described_with_an_example(path: str, method: str, one: dict[str, Any]) -> None:
    faults = {int(status): answer for status, answer in one["responses"].items() if status >= "400"}

    assert set(faults) >= {400, 401, 403, 404, 405, 406, 429, 500}
    assert method == "get" or set(faults) == set(PROBLEMS)
    for status, answer in faults.items():
        content = answer["content"]["application/problem+json"]
        for example in content["examples"].values():
            assert example["value"]["status"] == status
            assert [*differences(example["value"], content["schema"])] == []


@pytest.mark.parametrize(("path", "method", "one"), OPERATIONS, ids=IDS)
def test_every_example_is_as_described(path: str, method: str, one: dict[str, Any]) -> None:
    contents = [one["responses"]["200"]["content"]["application/json"]]
    contents += [one["requestBody"]["content"]["application/json"]] if "requestBody" in one else []

    found = [
        told
        for content in contents
        for example in content["examples"].values()
        for told in differences(json.loads(json.dumps(example["value"])), content["schema"])
    ]
    assert found == []


@pytest.mark.usefixtures("wednesday")
@pytest.mark.parametrize("path", LISTS)
def test_every_answer_is_as_described(program: Program, client: Client, path: str) -> None:
    fill(client)
    schema = SPEC["paths"][path]["get"]["responses"]["200"]["content"]["application/json"]["schema"]

    told = program.get(path).json()

    assert told["results"]
    assert [*differences(told, schema)] == []


def test_a_body_is_said_to_take_no_member_but_its_own() -> None:
    operations = [one for of_path in SPEC["paths"].values() for one in of_path.values() if "requestBody" in one]
    bodies = [one["requestBody"]["content"]["application/json"]["schema"]["$ref"] for one in operations]
    names = {reference.rsplit("/", 1)[1] for reference in bodies}

    assert {name: SPEC["components"]["schemas"][name].get("additionalProperties") for name in names} == {
        "SeenBody": False, "PutAsideBody": False, "CloseBody": False,
    }  # fmt: skip


def test_a_difference_is_found() -> None:
    schema = {"$ref": "#/components/schemas/ClientRow"}

    assert {*differences({"id": "x" * 0 or None, "colour": "red"}, schema)} >= {".colour is not described"}


def test_the_description_is_served_to_whoever_is_signed_in(program: Program) -> None:
    answer = program.get("schema/")

    assert answer.json() == json.loads(json.dumps(SPEC, default=str))
    assert problem(Browser().get("/api/v1/schema/"))["status"] == 401


def test_the_root_leads_to_every_list(program: Program) -> None:
    told = program.get("").json()

    assert [program.get(one["address"]).status_code for one in told["resources"]] == [200] * len(told["resources"])
    assert {f"/api/v1/{one['name']}/" for one in told["resources"]} == set(LISTS)


def test_the_documents_say_all_of_it_without_a_script(coach: Coach) -> None:
    browser = Browser()
    browser.force_login(coach)

    page = browser.get("/api/v1/docs/")

    text = page.content.decode()
    assert page.status_code == 200
    assert [path for path in SPEC["paths"] if path not in text] == []
    names = {one.name for one in PROBLEMS.values()} | {fault.value.name for fault in DatabaseFault}
    assert [name for name in names if text.count(f'id="{name}"') != 1] == []
    assert "unsafe" not in page.headers["Content-Security-Policy"]
    assert "<script>" not in text
    assert "style=" not in text


def test_the_documents_are_for_whoever_is_signed_in(db: None) -> None:
    assert Browser().get("/api/v1/docs/").status_code == 302
