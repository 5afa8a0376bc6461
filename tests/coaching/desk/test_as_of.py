from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client as Browser

from roster.people.models import Client, Coach

BrowserOf = Callable[[Coach], Browser]
pytestmark = pytest.mark.usefixtures("wednesday")
PAGES = ["/", "/clients/"]


@pytest.mark.parametrize("address", PAGES)
@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ("yesterday", "“yesterday” is no date such as 2026-04-15. This is today."),
        ("2026-02-30", "“2026-02-30” is no date such as 2026-04-15. This is today."),
        ("2026-04-16", "2026-04-16 has not come yet. This is today."),
        ("0001-01-01", "0001-01-01 is too long ago. This is today."),
    ],
)
def test_a_day_that_cannot_be_shown_is_told_and_today_shown(
    coach: Coach, client_of_coach: Client, browser_of: BrowserOf, address: str, asked: str, told: str
) -> None:
    answer = browser_of(coach).get(address, {"as_of": asked})

    assert told in answer.content.decode()
    assert answer.context["when"].day.isoformat() == "2026-04-15"


def test_today_asked_for_by_date_is_the_live_page(coach: Coach, browser_of: BrowserOf) -> None:
    when = browser_of(coach).get("/?as_of=2026-04-15").context["when"]

    assert (when.is_past, when.query) == (False, "")


def test_an_earlier_day_is_carried_over_to_the_next_page(coach: Coach, browser_of: BrowserOf) -> None:
    when = browser_of(coach).get("/clients/?as_of=2026-04-01&q=bo&page=2").context["when"]

    assert (when.asked.isoformat(), when.query, when.kept) == ("2026-04-01", "?as_of=2026-04-01", (("q", "bo"),))


def test_today_is_the_coachs_own(coach: Coach, browser_of: BrowserOf) -> None:
    coach.time_zone = "Pacific/Niue"
    coach.save()

    assert browser_of(coach).get("/").context["when"].today.isoformat() == "2026-04-14"
