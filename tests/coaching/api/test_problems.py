"""Every fault is a problem detail (RFC 9457), also those that no view of the interface is asked about.

ASVS 5.0 4.1.1, 4.1.4, 16.5.1: answers say what they are, methods are those there are, nothing of the inside shows.
"""

from __future__ import annotations

import pytest
from django.test import Client as Browser

from roster.people.models import Client, Coach
from tests.coaching.api.programs import V1, Program, problem

pytestmark = pytest.mark.usefixtures("wednesday")
NOBODY = "00000000-0000-4000-8000-000000000000"


@pytest.mark.parametrize("address", ["/api/", "/api/v1/moon/", "/api/v2/clients/", "/api/v1/clients/7/", "/api/x/y"])
@pytest.mark.parametrize("method", ["get", "post", "delete", "options"])
def test_an_address_that_is_none(db: None, address: str, method: str) -> None:
    browser = Browser(enforce_csrf_checks=True)

    told = problem(getattr(browser, method)(address))

    assert (told["status"], told["type"]) == (404, "/api/v1/docs/#nothing-here")


def test_an_address_without_its_last_slash_is_led_on(program: Program) -> None:
    answer = program.get("/api/v1/clients?limit=1")

    assert (answer.status_code, answer.headers["Location"]) == (307, "/api/v1/clients/?limit=1")


@pytest.mark.parametrize("resource", ["clients", "exercises", "blocks", "planned-sessions", "session-logs", "flags"])
def test_a_row_that_is_none(program: Program, resource: str) -> None:
    assert problem(program.get(f"{resource}/{NOBODY}/"))["status"] == 404


def test_nobody_is_signed_in(db: None) -> None:
    answer = Browser().get(f"{V1}clients/")

    assert problem(answer)["status"] == 401
    assert answer.headers["WWW-Authenticate"] == "Bearer"


@pytest.mark.parametrize("method", ["post", "put", "patch", "delete"])
def test_a_method_that_a_list_does_not_take(program: Program, method: str) -> None:
    answer = getattr(program.browser, method)(f"{V1}clients/")

    assert problem(answer)["status"] == 405
    assert "GET" in answer.headers["Allow"]


def test_another_form_than_json(program: Program) -> None:
    assert problem(program.get("clients/", accept="text/csv"))["status"] == 406


def test_a_body_that_is_no_json(program: Program, stall: object) -> None:
    address = program.all_rows("flags/")[0]["id"]
    seen = f"{V1}flags/{address}/seen/"

    form = program.browser.post(seen, {"note": "x"}, headers={"if-match": "*"})
    broken = program.browser.post(seen, "{", content_type="application/json", headers={"if-match": "*"})
    deep = program.browser.post(seen, "[" * 60_000, content_type="application/json", headers={"if-match": "*"})
    large = program.browser.post(seen, " " * 70_000, content_type="application/json", headers={"if-match": "*"})

    assert [problem(answer)["status"] for answer in (form, broken, deep, large)] == [415, 400, 400, 413]


@pytest.mark.parametrize(
    ("address", "parameter"),
    [
        ("weeks/?as_of=soon", "as_of"),
        ("weeks/?as_of=2026-04-16", "as_of"),
        ("weeks/?as_of=0001-01-01", "as_of"),
        ("clients/?as_of=2026-04-01", "as_of"),
        ("weeks/?limit=0", "limit"),
        ("weeks/?limit=501", "limit"),
        ("weeks/?limit=-1", "limit"),
        ("weeks/?limit=²", "limit"),
        ("weeks/?cursor=eyJ9", "cursor"),
        ("weeks/?week_from=2026-W54", "week_from"),
        ("weeks/?week_from=0000-W01", "week_from"),
        ("weeks/?client=7", "client"),
        ("weeks/?colour=red", "colour"),
        ("weeks/?week_to=2026-W10&week_to=2026-W11", "week_to"),
        ("flags/?kind=moon", "kind"),
        ("flags/?pile=ring&pile=moon", "pile"),
        ("exposures/?met=perhaps", "met"),
        ("planned-sessions/?suggested_from=13/04/2026", "suggested_from"),
        ("clients/?q=%00", "q"),
        ("clients/?q=", "q"),
        ("weeks/?client=", "client"),
        ("weeks/?week_from=", "week_from"),
        ("flags/?kind=", "kind"),
        ("flags/?opened_from=&kind=pain", "opened_from"),
        ("exposures/?met=", "met"),
        ("turnout/?as_of=", "as_of"),
        ("turnout/?limit=", "limit"),
    ],
)
def test_a_parameter_that_is_not_as_described(program: Program, address: str, parameter: str) -> None:
    told = problem(program.get(address))

    assert (told["status"], [error["parameter"] for error in told["errors"]]) == (400, [parameter])


def test_a_cursor_of_another_list_is_none_of_this_one(program: Program, coach: Coach, client: Client) -> None:
    from tests.coaching.factories import ClientFactory

    ClientFactory(lead=coach)
    following = program.get("clients/?limit=1").json()["next"]

    told = problem(program.get("weeks/?cursor=" + following.split("cursor=")[1]))

    assert told["errors"][0]["parameter"] == "cursor"


def test_something_that_fails_says_nothing_of_it(program: Program, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object, **__: object) -> None:
        raise RuntimeError("the disk is gone")

    monkeypatch.setattr("coaching.api.answering.read_page", fail)
    program.browser.raise_request_exception = False

    answer = program.get("weeks/")

    assert problem(answer)["status"] == 500
    assert "disk" not in answer.content.decode()


def test_a_host_that_is_not_ours(db: None) -> None:
    assert problem(Browser().get(f"{V1}clients/", headers={"host": "elsewhere.example"}))["status"] == 400


def test_pages_still_answer_with_pages(db: None) -> None:
    answer = Browser().get("/nowhere/")

    assert (answer.status_code, answer.headers["Content-Type"].split(";")[0]) == (404, "text/html")


def test_options_tells_which_methods_there_are(program: Program) -> None:
    answer = program.browser.options(f"{V1}weeks/")

    assert (answer.status_code, answer.headers["Allow"], answer.content) == (204, "GET, HEAD, OPTIONS", b"")


def test_head_is_get_without_its_body(program: Program, bo: Client) -> None:
    read, head = program.get("clients/"), program.browser.head(f"{V1}clients/")

    assert (head.status_code, head.content) == (200, b"")
    assert (head.headers["ETag"], head.headers["Content-Length"]) == (read.headers["ETag"], str(len(read.content)))
