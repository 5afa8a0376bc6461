"""Whatever is asked, the answer is one that the description names, and no failure of ours."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any
from urllib.parse import urlencode

import pytest
from django.utils import timezone
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pytest_django import DjangoDbBlocker

from coaching.api import throttles
from roster.people.models import Coach
from tests.coaching.api.programs import PROBLEM, Program
from tests.coaching.api.test_description import SPEC
from tests.coaching.api.test_lists import fill
from tests.coaching.factories import ClientFactory, CoachFactory
from tests.coaching.module_database import forgotten_afterwards

pytestmark = [pytest.mark.django_db]
READS = [path for path, of_path in SPEC["paths"].items() if "get" in of_path]
NAMES = sorted({
    parameter["name"] for of_path in SPEC["paths"].values() for one in of_path.values()
    for parameter in one["parameters"] if parameter["in"] == "query"
})  # fmt: skip
NUMBERS = st.integers(-(10**12), 10**12).map(str)
LIKELY = st.one_of(
    st.dates().map(str), st.dates().map(lambda day: "{}-W{:02}".format(*day.isocalendar())), NUMBERS,
    st.uuids().map(str), st.sampled_from(["", "true", "false", "done", "act", "stall", "ring", "active", "\x00", "²"]),
)  # fmt: skip
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=60)
PAIRS = st.lists(st.tuples(st.sampled_from(NAMES), LIKELY | TEXTS), max_size=4)
ETAGS = st.one_of(
    st.none(), st.just("*"), st.from_regex(r'(W/)?"[!-~]{0,40}"', fullmatch=True), st.text('"W/,* a', max_size=9)
)
BODIES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | TEXTS,
    lambda inner: st.lists(inner, max_size=3)
    | st.dictionaries(st.sampled_from(["note", "contact", "until", "x"]), inner, max_size=4),
    max_leaves=8,
)
ANY = settings(max_examples=300, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])


@pytest.fixture(scope="module")
def asking(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[Program]:
    with forgotten_afterwards(django_db_blocker), pytest.MonkeyPatch.context() as patched:
        patched.setattr(throttles, "READS_A_WINDOW", 10**9)
        patched.setattr(throttles, "ACTS_A_WINDOW", 10**9)
        coach = CoachFactory(role=Coach.Role.OWNER)
        for _ in range(2):
            fill(ClientFactory(lead=coach))
        program = Program(coach)
        program.browser.raise_request_exception = False
        yield program


def ids_of(program: Program, path: str) -> str:
    rows = program.get(path.split("{")[0]).json()["results"]
    return path.replace("{public_id}", rows[0]["id"] if rows else "00000000-0000-4000-8000-000000000000")


def is_described(answer: Any, path: str, method: str) -> bool:
    kind = answer.headers.get("Content-Type", PROBLEM)
    is_problem = kind == PROBLEM
    return str(answer.status_code) in SPEC["paths"][path][method]["responses"] and (
        answer.status_code < 400 or is_problem
    )


@ANY
@given(path=st.sampled_from(READS), pairs=PAIRS, etag=ETAGS)
def test_any_question_is_answered(asking: Program, path: str, pairs: list[tuple[str, str]], etag: str | None) -> None:
    address = ids_of(asking, path) if "{" in path else path

    answer = asking.get(f"{address}?{urlencode(pairs)}", **({"if-none-match": etag} if etag else {}))

    assert answer.status_code < 500
    assert is_described(answer, path, "get")


@ANY
@given(what=st.sampled_from(["seen", "put-aside", "close"]), body=BODIES, etag=ETAGS)
def test_any_act_is_answered(asking: Program, what: str, body: Any, etag: str | None) -> None:
    path = f"/api/v1/flags/{{public_id}}/{what}/"
    headers = {"if-match": etag} if etag else {}

    answer = asking.browser.post(ids_of(asking, path), body, content_type="application/json", headers=headers)

    assert answer.status_code < 500
    assert is_described(answer, path, "post")


@ANY
@given(cursor=st.text(st.characters(codec="ascii"), max_size=80) | TEXTS, path=st.sampled_from(["weeks", "clients"]))
def test_a_cursor_of_one_s_own_making_is_none(asking: Program, cursor: str, path: str) -> None:
    answer = asking.get(f"{path}/?{urlencode({'cursor': cursor})}")

    assert answer.status_code == 400


def test_the_facts_that_are_asked_about_are_there(asking: Program) -> None:
    assert len(asking.all_rows(f"weeks/?as_of={timezone.now().date()}")) > 0
    assert len(asking.all_rows("clients/")) == 2
