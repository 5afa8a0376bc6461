from __future__ import annotations

from datetime import date

import pytest

from coaching.check_ins.answers import read_answers
from coaching.check_ins.content import Answer, Period
from roster.people.models import CheckIn, CheckInAnswer, Client

pytestmark = pytest.mark.django_db
MARCH = Period(date(2026, 3, 1), date(2026, 3, 31), "March 2026")


def call(client: Client, held_on: date | None, *well: str) -> None:
    one = CheckIn.objects.create(client=client, due_on=held_on, held_on=held_on)
    for text in well:
        CheckInAnswer.objects.create(check_in=one, question="well", text=text)


def told(client: Client) -> str:
    return read_answers([client.pk], MARCH)[client.pk][0].text


def test_a_pack_has_the_answers_of_the_first_call_after_its_period(client: Client) -> None:
    call(client, date(2026, 3, 31), "of the call before")
    call(client, date(2026, 4, 29), "of a later call")
    call(client, date(2026, 4, 2), "first word", "last word")
    call(client, None, "of the call to come")

    assert told(client) == "last word"


def test_until_that_is_held_they_are_those_of_the_call_to_come(client: Client) -> None:
    call(client, date(2026, 3, 31), "of the call before")
    call(client, None, "of the call to come")

    assert read_answers([client.pk], MARCH)[client.pk] == (
        Answer("What went well?", "of the call to come"),
        Answer("What got in the way?", ""),
        Answer("What should change?", ""),
    )


def test_where_nothing_was_noted_the_answers_are_empty(client: Client, django_assert_num_queries) -> None:
    call(client, None)

    with django_assert_num_queries(2):
        assert told(client) == ""
