from __future__ import annotations

from datetime import UTC, datetime, timedelta

from django.http import HttpRequest, HttpResponse
from django.test import RequestFactory

from coaching.desk.visits import keep_visit, last_visit
from roster.people.models import Coach

SEVEN = datetime(2026, 4, 15, 7, tzinfo=UTC)


def look(cookies: dict[str, str], at: datetime, pk: int = 1) -> datetime | None:
    """A look at the list: answers when the visit before ended, and keeps this one."""
    request, response = _request(cookies, pk), HttpResponse()
    before = last_visit(request, at)
    keep_visit(request, response, at)
    cookies.update({name: morsel.value for name, morsel in response.cookies.items()})
    return before


def _request(cookies: dict[str, str], pk: int) -> HttpRequest:
    request = RequestFactory().get("/")
    request.user = Coach(pk=pk)
    request.COOKIES.update(cookies)
    return request


def test_a_first_visit_has_none_before_it() -> None:
    assert look({}, SEVEN) is None


def test_the_next_morning_looks_back_to_the_end_of_the_visit_before() -> None:
    cookies: dict[str, str] = {}
    look(cookies, SEVEN)
    look(cookies, SEVEN + timedelta(minutes=20))

    assert look(cookies, SEVEN + timedelta(days=1)) == SEVEN + timedelta(minutes=20)


def test_looks_close_together_are_one_visit_and_keep_what_is_new() -> None:
    cookies: dict[str, str] = {}
    look(cookies, SEVEN)
    look(cookies, SEVEN + timedelta(days=1))

    assert look(cookies, SEVEN + timedelta(days=1, minutes=10)) == SEVEN


def test_two_coaches_at_one_desk_have_a_visit_each() -> None:
    cookies: dict[str, str] = {}
    look(cookies, SEVEN)

    assert look(cookies, SEVEN + timedelta(days=1), pk=2) is None


def test_a_cookie_that_was_tampered_with_counts_for_nothing() -> None:
    assert look({"visit_1": "1 2:forged"}, SEVEN) is None
