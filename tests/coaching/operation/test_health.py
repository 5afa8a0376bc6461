from __future__ import annotations

import io
import shutil
from pathlib import Path

import pytest
from django.conf import settings
from django.db import DatabaseError, connection
from django.test import Client as Browser
from django.test import override_settings

from coaching.operation import health, views
from coaching.operation.health import CHECKS, Readiness
from tests.coaching.operation.conftest import written

ALL_HOLD = {"database": "holds", "disk": "holds", "shared_values": "holds"}


@pytest.fixture(autouse=True)
def _nothing_asked_before(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(views, "_READINESS", Readiness(CHECKS))


def fail(*_: object, **__: object) -> None:
    raise DatabaseError("quillwort is locked")


@pytest.mark.parametrize("method", ["get", "head"])
def test_a_process_that_answers_is_alive_whatever_its_database_does(method: str) -> None:
    # Without a mark for it, this test may not touch the database.
    answer = getattr(Browser(), method)("/healthz")

    assert (answer.status_code, answer.headers["Cache-Control"]) == (200, "no-store")


def test_nobody_s_session_stands_between_a_watching_program_and_the_desk() -> None:
    # The database that would say whose session it is may not be touched here either.
    browser = Browser()
    browser.cookies[settings.SESSION_COOKIE_NAME] = "a-session-of-somebody"

    assert browser.get("/healthz").status_code == 200


@override_settings(ALLOWED_HOSTS=["muster.example"])
def test_it_is_asked_by_address_and_answers_under_any_name(db: None) -> None:
    asked = [Browser().get(path, headers={"host": "10.1.2.3:8000"}) for path in ("/healthz", "/readyz", "/sign-in/")]

    assert [answer.status_code for answer in asked] == [200, 200, 400]


def test_it_is_ready_when_every_check_holds_and_names_them(db: None) -> None:
    answer = Browser().get("/readyz")

    assert (answer.status_code, answer.json()) == (200, {"checks": ALL_HOLD})
    assert answer.headers["Cache-Control"] == "no-store"


def test_before_anything_was_written_on_this_machine_it_looks_at_the_disk_where_that_will_be(
    db: None, tmp_path: Path
) -> None:
    with override_settings(HOME_DIR=tmp_path / "not" / "made"):
        answer = Browser().get("/readyz")

    assert (answer.status_code, answer.json()) == (200, {"checks": ALL_HOLD})


def test_asked_by_head_it_says_the_same_without_words(db: None) -> None:
    answer = Browser().head("/readyz")

    assert (answer.status_code, answer.content) == (200, b"")


def test_the_database_is_written_to_each_time(db: None) -> None:
    health.write_to_the_database()
    before = health.Probe.objects.get().written_at

    health.write_to_the_database()

    assert health.Probe.objects.get().written_at > before


def test_a_database_that_takes_nothing_is_named_and_the_rest_goes_to_the_log(
    db: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(health.Probe.objects, "update_or_create", fail)

    with written("json") as log:
        answer = Browser().get("/readyz")

    assert (answer.status_code, answer.json()) == (503, {"checks": ALL_HOLD | {"database": "fails"}})
    assert "django.db.utils.DatabaseError" in log.getvalue()
    assert "quillwort" not in answer.content.decode() + log.getvalue()


def test_a_disk_that_is_nearly_full_is_named(db: None, monkeypatch: pytest.MonkeyPatch) -> None:
    nearly_full = shutil.disk_usage("/")._replace(free=health.LEAST_FREE_BYTES - 1)
    monkeypatch.setattr(shutil, "disk_usage", lambda folder: nearly_full)

    answer = Browser().get("/readyz")

    assert (answer.status_code, answer.json()) == (503, {"checks": ALL_HOLD | {"disk": "fails"}})


@override_settings(CACHES={"default": {"BACKEND": "django.core.cache.backends.dummy.DummyCache"}})
def test_shared_values_that_are_not_kept_are_named(db: None) -> None:
    answer = Browser().get("/readyz")

    assert answer.json() == {"checks": ALL_HOLD | {"shared_values": "fails"}}


def test_asking_again_at_once_writes_nothing(db: None, django_assert_num_queries) -> None:
    Browser().get("/readyz")

    with django_assert_num_queries(0):
        answer = Browser().get("/readyz")

    assert answer.status_code == 200


def test_a_probe_waits_for_nobody_longer_than_it_must(db: None) -> None:
    def longest_wait() -> str:
        question = {"sqlite": "PRAGMA busy_timeout", "postgresql": "SHOW statement_timeout"}[connection.vendor]
        with connection.cursor() as cursor:
            cursor.execute(question)
            return str(cursor.fetchone()[0])

    before = longest_wait()
    with health.waiting_at_most(2):
        meanwhile = longest_wait()

    assert meanwhile in ("2000", "2s")
    assert longest_wait() == before


def test_neither_leaves_a_line_while_all_is_well(db: None, log: io.StringIO) -> None:
    Browser().get("/healthz")
    Browser().get("/readyz")

    assert log.getvalue() == ""


@override_settings(SECURE_SSL_REDIRECT=True)
@pytest.mark.parametrize("path", ["/healthz", "/readyz"])
def test_whatever_runs_the_desk_asks_without_https(db: None, path: str) -> None:
    with override_settings(SECURE_REDIRECT_EXEMPT=[r"^(healthz|readyz|metrics)$"]):
        assert Browser().get(path).status_code == 200
