from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import ZipFile

import pytest
from django.test import Client as Browser
from django.utils import timezone

from coaching.check_ins.batches import work_through, zip_of
from coaching.check_ins.models import PackBatch
from coaching.monitoring.models import Kind
from roster.people.models import Client, Coach, ViewRecord
from tests.coaching.desk.pages import BrowserOf, read_page, words
from tests.coaching.factories import ClientFactory, FlagFactory
from tests.isolation.asking import content_of

pytestmark = pytest.mark.usefixtures("wednesday")


@pytest.fixture(autouse=True)
def _home(settings: Any, tmp_path: Path) -> None:
    settings.HOME_DIR = tmp_path


@pytest.fixture
def ask(client_of_coach: Client, coach: Coach, browser_of: BrowserOf) -> Callable[..., PackBatch]:
    """Asked for at the page; the test itself is who makes it."""

    def add(by: Coach = coach, **form: str) -> PackBatch:
        answer = browser_of(by).post("/packs/add/", {"month": "2026-03", **form})
        batch = PackBatch.objects.get()
        assert answer.headers["Location"] == f"/packs/{batch.public_id}/"
        return batch

    return add


def keys(batch: PackBatch) -> list[str]:
    return list(batch.packs.values_list("client__name", flat=True))


def test_all_active_clients_that_one_may_see_are_asked_for(
    ask: Callable[..., PackBatch], coach: Coach, outsider: Coach
) -> None:
    ClientFactory(lead=coach, name="Ended", state="ended", ended_on=date(2026, 3, 1))
    ClientFactory(lead=outsider, name="Of another")

    batch = ask(size="letter")

    assert keys(batch) == ["Ilse Brandt"]
    assert (batch.title, batch.size, batch.by) == ("March 2026", "letter", coach)


def test_only_who_is_due_a_call_is_asked_for(
    ask: Callable[..., PackBatch], coach: Coach, client_of_coach: Client
) -> None:
    FlagFactory(client=ClientFactory(lead=coach, name="Due"), kind=Kind.CHECK_IN_DUE, subject="")

    assert keys(ask(who="due")) == ["Due"]


def test_the_page_tells_how_far_it_has_come_and_gives_the_zip_in_the_end(
    ask: Callable[..., PackBatch], coach: Coach, browser_of: BrowserOf
) -> None:
    batch, browser = ask(), browser_of(coach)
    at_work = read_page(browser, f"/packs/{batch.public_id}/")
    progress = browser.get(f"/packs/{batch.public_id}/progress/").json()

    work_through(batch.pk)

    assert words(at_work.select_one(".making [role=status]")) == "0 of 1 packs"
    assert progress == {"done": 0, "of": 1, "finished": False}
    assert browser.get(f"/packs/{batch.public_id}/progress/").json() == {"done": 1, "of": 1, "finished": True}
    page = read_page(browser, f"/packs/{batch.public_id}/")
    assert "Ilse Brandt: Nothing was planned or logged" in words(page.select_one("section"))
    answer = browser.get(f"/packs/{batch.public_id}/zip/")
    assert answer.headers["Content-Disposition"] == 'attachment; filename="packs-2026-03-01-to-2026-03-31.zip"'
    assert answer.headers["Cache-Control"] == "no-store"
    with ZipFile(BytesIO(content_of(answer))) as archive:
        assert archive.namelist() == ["who-has-none.txt"]


def test_a_batch_that_was_cut_off_is_gone_on_with(
    ask: Callable[..., PackBatch], coach: Coach, browser_of: BrowserOf
) -> None:
    batch, browser = ask(), browser_of(coach)
    PackBatch.objects.update(asked_at=timezone.now() - timedelta(hours=1))

    page = read_page(browser, f"/packs/{batch.public_id}/")

    assert "Nobody is making the rest just now" in words(page.main)
    assert browser.post(f"/packs/{batch.public_id}/go-on/").status_code == 302


def test_before_it_is_ready_there_is_no_zip(ask: Callable[..., PackBatch], coach: Coach, browser_of: BrowserOf) -> None:
    answer = browser_of(coach).get(f"/packs/{ask().public_id}/zip/")

    assert "There is no ZIP of it here." in answer.content.decode()


def test_a_batch_is_put_away_with_its_files(
    ask: Callable[..., PackBatch], coach: Coach, browser_of: BrowserOf
) -> None:
    batch = ask()
    work_through(batch.pk)
    assert zip_of(batch).exists()

    browser_of(coach).post(f"/packs/{batch.public_id}/drop/")

    assert not PackBatch.objects.exists()
    assert not zip_of(batch).parent.exists()


@pytest.mark.parametrize("form", [{"month": "2026-13"}, {"month": "2026-05"}, {"month": "2026-03", "who": "due"}])
def test_what_can_not_be_asked_for_is_told(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf, form: dict[str, str]
) -> None:
    browser = browser_of(coach)

    browser.post("/packs/add/", form)

    assert not PackBatch.objects.exists()
    assert read_page(browser, "/packs/").select_one(".told p") is not None


def test_whose_packs_the_owner_takes_is_recorded(
    ask: Callable[..., PackBatch], coach: Coach, owner: Coach, browser_of: BrowserOf
) -> None:
    batch = ask()
    work_through(batch.pk)
    batch.packs.update(state="made")

    for who in (coach, owner):
        assert content_of(browser_of(who).get(f"/packs/{batch.public_id}/zip/"))

    assert list(ViewRecord.objects.values_list("coach", "page")) == [(owner.pk, "check-in packs")]


def test_assistants_and_other_studios_get_nothing(
    ask: Callable[..., PackBatch], assistant: Coach, outsider: Coach, browser_of: Callable[[Coach], Browser]
) -> None:
    batch = ask()

    for ending in ("", "progress/", "zip/"):
        assert browser_of(assistant).get(f"/packs/{batch.public_id}/{ending}").status_code == 404
        assert browser_of(outsider).get(f"/packs/{batch.public_id}/{ending}").status_code == 404
    assert browser_of(assistant).get("/packs/").status_code == 404
