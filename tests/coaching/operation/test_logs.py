"""What is written down tells what happened, one event a line, and holds nobody's data.

ASVS 5.0 16.2.2: times are UTC; 16.2.5: no sensitive data; 16.4.1: nothing from outside can forge a line.
"""

from __future__ import annotations

import io
import json
import logging
from datetime import datetime
from typing import Any

import pytest
from django.core.exceptions import ImproperlyConfigured
from django.test import Client as Browser

from coaching.operation.logs import logging_as
from roster.people.models import Client, Coach
from tests.coaching.operation.conftest import written

HOSTILE = "bo\nERROR forged\r\x1b[31mred\x1b[0m\u2028\x9b31m\x00"


def events(log: io.StringIO) -> list[dict[str, Any]]:
    return [json.loads(line) for line in log.getvalue().splitlines()]


def fail_with(words: str, monkeypatch: pytest.MonkeyPatch) -> Browser:
    def fail(*_: object) -> None:
        raise ValueError(words)

    monkeypatch.setattr("coaching.desk.views.morning.read_when", fail)
    return Browser(raise_request_exception=False)


def test_a_page_is_one_line_with_its_route_its_reader_its_status_and_its_time(coach: Coach, log: io.StringIO) -> None:
    browser = Browser()
    browser.force_login(coach)

    answer = browser.get("/clients/?q=bo")

    (event,) = [event for event in events(log) if event["event"] == "request_finished"]
    assert (event["request"], event["code"], event["user_id"]) == ("GET /clients/", 200, coach.pk)
    assert 0 < event["duration_ms"] < 60_000
    assert event["request_id"] == answer.headers["X-Request-ID"]
    assert datetime.fromisoformat(event["timestamp"]).utcoffset().total_seconds() == 0


def test_a_visitor_s_line_names_no_reader_and_a_page_that_is_not_there_is_nowhere(db: None, log: io.StringIO) -> None:
    Browser().get("/bo.valk@example.org/")

    (event,) = [event for event in events(log) if event["event"] == "request_finished"]
    assert (event["request"], event["code"]) == ("GET nowhere", 404)
    assert "user_id" not in event


def test_a_failure_is_told_by_its_type_and_place_and_not_in_its_words(
    coach: Coach, log: io.StringIO, monkeypatch: pytest.MonkeyPatch
) -> None:
    browser = fail_with("Bo Valk hurts", monkeypatch)
    browser.force_login(coach)

    assert browser.get("/").status_code == 500

    (event,) = [event for event in events(log) if event["event"] == "request_failed"]
    assert event["failure"] == "builtins.ValueError"
    assert event["at"][-1].startswith("coaching/operation/test_logs.py:")
    assert event["at"][-1].endswith(" fail")
    assert (event["code"], event["user_id"]) == (500, coach.pk)
    assert "Valk" not in log.getvalue()


def test_whoever_develops_reads_a_failure_in_full(coach: Coach, monkeypatch: pytest.MonkeyPatch) -> None:
    browser = fail_with("what went wrong", monkeypatch)
    browser.force_login(coach)

    with written("plain", in_full=True) as log:
        browser.get("/")

    assert "what went wrong" in log.getvalue()


@pytest.mark.parametrize("form", ["json", "plain"])
def test_no_words_from_outside_begin_a_line_or_move_a_terminal(form: str) -> None:
    with written(form) as log:
        logging.getLogger("coaching.somewhere").warning(HOSTILE)
        logging.getLogger("elsewhere").warning("taken: %s", HOSTILE)

    lines = log.getvalue().split("\n")
    assert len(lines) == 3
    assert all(line.isprintable() for line in lines)


def test_what_others_say_is_written_before_anything_was_filled_in(log: io.StringIO) -> None:
    logging.getLogger("elsewhere").warning("no mail to %s", "bo@example.org")
    logging.getLogger("elsewhere").error(ValueError("bo@example.org"))

    assert [event["event"] for event in events(log)] == ["no mail to %s", "ValueError"]


def test_what_the_desk_says_itself_is_filled_in(log: io.StringIO) -> None:
    logging.getLogger("coaching.somewhere").info("coach %s signed in", 7)
    logging.getLogger("coaching.somewhere").info("nothing at 100 % today")

    assert [event["event"] for event in events(log)] == ["coach 7 signed in", "nothing at 100 % today"]


def test_a_host_that_is_not_ours_is_told_of_without_its_name(db: None, log: io.StringIO) -> None:
    answer = Browser().get("/sign-in/", headers={"host": "bo.example"})

    assert answer.status_code == 400
    assert "django.security.DisallowedHost" in {event["event"] for event in events(log)}
    assert "bo.example" not in log.getvalue()


def test_a_form_that_does_not_exist_is_refused() -> None:
    with pytest.raises(ImproperlyConfigured, match="LOGS is loud: it may be json or plain"):
        logging_as("loud", in_full=False)


def test_a_client_of_an_address_is_not_named_in_it(client: Client, coach: Coach, log: io.StringIO) -> None:
    browser = Browser()
    browser.force_login(coach)

    browser.get(f"/clients/{client.public_id}/")

    assert "GET /clients/<uuid:public_id>/" in log.getvalue()
    assert str(client.public_id) not in log.getvalue()
