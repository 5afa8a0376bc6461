"""Access for programs: tokens made, shown once, and taken away by their own person.

ASVS 5.0 7.5.1: who adds a way in confirms who they are.
"""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from django.test import Client as Browser

from coaching.api import pages
from coaching.api.models import AccessToken
from coaching.api.tokens import make_token
from roster.people.models import Coach

DAY = timedelta(days=1)
PASSWORD = "a kettle of tea"
PAGE = "/account/programs/"
FORM = {"name": "the spreadsheet", "scopes": ["read"], "days": "90"}


@pytest.fixture
def desk(coach: Coach) -> Browser:
    """The desk of somebody who has just confirmed who they are."""
    coach.set_password(PASSWORD)
    coach.save()
    desk = Browser()
    desk.force_login(coach)
    desk.post("/account/confirm/", {"password": PASSWORD})
    return desk


def test_a_token_is_shown_this_once(desk: Browser, coach: Coach) -> None:
    made = desk.post(PAGE, FORM).content.decode()
    again = desk.get(PAGE).content.decode()

    token = re.search(r"muster_[0-9a-f]{64}", made)
    assert token is not None
    assert token[0] not in again
    assert "the spreadsheet" in again
    answer = Browser().get("/api/v1/clients/", headers={"authorization": f"Bearer {token[0]}"})
    assert answer.status_code == 200
    row = AccessToken.objects.get()
    assert (row.user, row.scopes, round((row.expiry - row.created) / DAY)) == (coach, ["read"], 90)


def test_a_token_that_is_taken_away_opens_nothing(desk: Browser, coach: Coach) -> None:
    row, token = make_token(coach=coach, name="old", scopes=["read"], days=30)

    answer = desk.post(f"{PAGE}{row.public_id}/revoke/", follow=True)

    assert "Taken away: old." in answer.content.decode()
    assert Browser().get("/api/v1/clients/", headers={"authorization": f"Bearer {token}"}).status_code == 401


def test_nobody_takes_away_another_s_token(desk: Browser, outsider: Coach) -> None:
    row, _ = make_token(coach=outsider, name="theirs", scopes=["read"], days=30)

    answer = desk.post(f"{PAGE}{row.public_id}/revoke/")

    assert answer.status_code == 404
    assert AccessToken.objects.filter(pk=row.pk).exists()
    assert "theirs" not in desk.get(PAGE).content.decode()


@pytest.mark.parametrize(
    "form",
    [
        {**FORM, "name": ""},
        {**FORM, "scopes": []},
        {**FORM, "scopes": ["everything"]},
        {**FORM, "days": "4000"},
        {**FORM, "name": "x" * 81},
    ],
)
def test_a_form_that_does_not_say_it_makes_nothing(desk: Browser, form: dict[str, object]) -> None:
    assert desk.post(PAGE, form).status_code == 422
    assert not AccessToken.objects.exists()


def test_there_are_so_many_tokens_at_most(desk: Browser, coach: Coach, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pages, "MOST_TOKENS", 1)
    desk.post(PAGE, FORM)

    assert desk.post(PAGE, FORM).status_code == 422
    assert AccessToken.objects.count() == 1


def test_whoever_did_not_confirm_lately_who_they_are_is_asked(coach: Coach) -> None:
    desk = Browser()
    desk.force_login(coach)

    assert desk.get(PAGE).headers["Location"].startswith("/account/confirm/")
    assert desk.post(PAGE, FORM).status_code == 302
    assert not AccessToken.objects.exists()


def test_a_token_does_not_open_the_pages_of_the_desk(coach: Coach) -> None:
    _, token = make_token(coach=coach, name="a program", scopes=["read", "act"], days=30)

    answers = [Browser().get(page, headers={"authorization": f"Bearer {token}"}) for page in ("/", PAGE, "/clients/")]

    assert {answer.status_code for answer in answers} == {302}
