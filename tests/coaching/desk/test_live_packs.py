"""The pack as the record stands now: composed for the look, kept only when somebody says so."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from coaching.check_ins.models import PackVersion
from roster.people.models import Client, Coach
from tests.coaching.desk.pages import BrowserOf, page_of, read_page, words
from tests.coaching.desk.test_pack_page import address, form_of, give, open_form, send
from tests.coaching.factories import (
    MONDAY,
    BlockFactory,
    PlannedExerciseFactory,
    PlannedSessionFactory,
    SessionLogFactory,
    SetLogFactory,
    SubmissionFactory,
)

pytestmark = pytest.mark.usefixtures("wednesday")
MARCH_MONDAY = MONDAY - timedelta(weeks=5)


@pytest.fixture
def trained(client_of_coach: Client) -> Client:
    """Two sessions were due in March; one was done."""
    block = BlockFactory(client=client_of_coach, label="Block 5", starts_on=MARCH_MONDAY, weeks=2)
    for week in (1, 2):
        day = MARCH_MONDAY + timedelta(weeks=week - 1)
        session = PlannedSessionFactory(block=block, week=week, label="A", suggested_on=day)
        planned = PlannedExerciseFactory(session=session)
    log_of(client_of_coach, session, planned)
    return client_of_coach


def log_of(client: Client, session: object, planned: object) -> None:
    log = SessionLogFactory(
        client=client, submission=SubmissionFactory(client=client), planned_session=session,
        performed_on=session.suggested_on,
    )  # fmt: skip
    SetLogFactory(session_log=log, exercise=planned.exercise)


def test_without_a_kept_version_the_pack_is_as_the_record_stands(
    trained: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    page = read_page(browser_of(coach), address(trained))

    assert words(page.select_one(".which p")) == "As the record stands now ; not kept."
    assert "1 of 2" in words(page.select_one("#figure-turnout"))
    assert not PackVersion.objects.exists()


def test_an_edit_keeps_what_was_composed(trained: Client, coach: Coach, browser_of: BrowserOf) -> None:
    browser = browser_of(coach)
    form = open_form(browser, trained, "live")

    send(browser, trained, form | {"sentence-0": "My own words."})

    assert PackVersion.objects.get().pack.sentences[0].text == "My own words."
    page = read_page(browser, address(trained))
    assert words(page.select_one(".said")) == "My own words."
    assert "1 of 2" in words(page.select_one("#figure-turnout"))


def test_what_was_logged_since_changes_no_kept_version(trained: Client, coach: Coach, browser_of: BrowserOf) -> None:
    browser = browser_of(coach)
    send(browser, trained, open_form(browser, trained, "live"))
    session = trained.blocks.get().sessions.get(week=1)

    log_of(trained, session, session.exercises.get())

    kept, live = (read_page(browser, address(trained, f"?month=2026-03&version={one}")) for one in ("1", "live"))
    assert "1 of 2" in words(kept.select_one("#figure-turnout"))
    assert "2 of 2" in words(live.select_one("#figure-turnout"))


def test_an_edit_of_a_record_that_has_moved_on_is_answered_with_both(
    trained: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    browser = browser_of(coach)
    form = open_form(browser, trained, "live")
    session = trained.blocks.get().sessions.get(week=1)
    log_of(trained, session, session.exercises.get())

    answer = send(browser, trained, form | {"sentence-0": "My own words."})

    page = page_of(answer)
    assert answer.status_code == 422
    assert not PackVersion.objects.exists()
    assert page.select_one("#sentence-0").get_text().strip() == "My own words."
    assert "There now:" in words(page.select_one(".part-sentences .other"))
    assert send(browser, trained, form_of(page)).status_code == 302


def test_giving_a_pack_that_was_not_kept_keeps_it(trained: Client, coach: Coach, browser_of: BrowserOf) -> None:
    give(browser_of(coach), trained, how="read")

    version = PackVersion.objects.get()
    assert (version.number, version.given_how, str(version.given_on)) == (1, "read", "2026-04-15")


def test_composed_anew_a_pack_keeps_remarks_and_hidden_parts_but_not_sentences(
    trained: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    browser = browser_of(coach)
    more = {"sentence-0": "My own words.", "remark-figures": "My remark.", "hidden": ["weeks"]}
    send(browser, trained, open_form(browser, trained, "live") | more)

    page = read_page(browser, address(trained, "?month=2026-03&version=live"))

    assert words(page.select_one(".coach-remark")) == "My remark."
    assert page.select_one(".part-weeks") is None
    assert words(page.select_one(".said")) != "My own words."


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ("month=2026-13", "There is no month 2026-13."),
        ("month=march", "“march” is no month such as 2026-03."),
        ("month=2026-05", "still to come"),
        ("from=2026-03-09&to=2026-03-01", "before it begins"),
        ("from=2026-03-09", "needs both its first and its last day"),
        ("from=2026-03-09&to=tomorrow", "“tomorrow” is no day such as 2026-03-15."),
        ("block=Block+99", "There is no block “Block 99” of Ilse Brandt."),
        ("month=2026-03&block=Block+5", "not for several of them"),
        ("from=1999-01-01&to=1999-01-31", "at the earliest"),
        ("from=2024-01-01&to=2026-01-31", "366 days at most"),
    ],
)
def test_a_period_that_can_not_be_is_told_and_last_month_shown(
    trained: Client, coach: Coach, browser_of: BrowserOf, asked: str, told: str
) -> None:
    page = read_page(browser_of(coach), address(trained, f"?{asked}"))

    assert told in words(page.select_one(".told"))
    assert words(page.h1) == "Ilse Brandt March 2026"


def test_a_pack_of_a_block_and_of_any_days(trained: Client, coach: Coach, browser_of: BrowserOf) -> None:
    browser = browser_of(coach)

    block = read_page(browser, address(trained, "?block=block 5"))
    days = read_page(browser, address(trained, "?from=2026-03-09&to=2026-03-15"))

    assert words(block.h1) == "Ilse Brandt Block 5"
    assert words(days.h1) == "Ilse Brandt 9 to 15 March 2026"
    assert "0 of 1" in words(days.select_one("#figure-turnout"))
    sent = send_of_block(browser, trained)
    assert PackVersion.objects.get().title == "Block 5"
    assert sent.status_code == 302


def send_of_block(browser: object, client: Client) -> object:
    form = form_of(read_page(browser, address(client, "?block=Block 5&edit=1")))
    return browser.post(f"/clients/{client.public_id}/pack/edit/?block=Block 5", form)


@pytest.mark.parametrize(
    ("asked", "why"),
    [("month=2025-09", "Joined on"), ("month=2026-02", "Nothing was planned or logged")],
)
def test_where_there_is_nothing_the_page_says_why(
    trained: Client, coach: Coach, browser_of: BrowserOf, asked: str, why: str
) -> None:
    page = read_page(browser_of(coach), address(trained, f"?{asked}"))

    assert why in words(page.select_one(".empty"))
    assert page.select("form[method=post][action*=given]") == []


def test_a_live_pack_costs_the_same_queries_however_much_was_trained(
    trained: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    browser = browser_of(coach)
    read_page(browser, address(trained))

    def count() -> int:
        with CaptureQueriesContext(connection) as queries:
            read_page(browser, address(trained))
        return len(queries)

    few = count()
    block = trained.blocks.get()
    for day in range(1, 7):
        session = PlannedSessionFactory(
            block=block, week=2, label=f"more {day}", suggested_on=MARCH_MONDAY + timedelta(days=7 + day)
        )
        log_of(trained, session, PlannedExerciseFactory(session=session))

    assert count() == few
