from __future__ import annotations

from datetime import date, timedelta

import pytest

from tests.plain_twin.findings_check_in import due_day, find_check_in_due
from tests.plain_twin.record import CheckIns, Client
from tests.plain_twin.small_files import asked, look

JOINED = date(2026, 1, 5)
BEGIN = date(2026, 1, 1)


def ana(*held: tuple[date, date], set_on: date | None = None, begin_on: date = BEGIN) -> Client:
    calls = CheckIns(begin_on, set_on, list(held))
    return Client("ana", "kg", JOINED, "each", None, [], check_ins=calls)


def after(days: int) -> date:
    return JOINED + timedelta(days=days)


@pytest.mark.parametrize(("held", "due"), [(26, 56), (28, 56), (41, 56), (42, 56), (43, 84)])
def test_the_next_is_due_in_the_rhythm_but_not_within_two_weeks(held: int, due: int):
    assert due_day(ana((after(28), after(held))), after(90)) == after(due)


def test_what_was_held_later_was_still_owed_before():
    client = ana((after(28), after(30)))

    assert due_day(client, after(29)) == after(28)
    assert due_day(client, after(30)) == after(56)


def test_a_day_that_was_set_goes_before_the_rhythm_and_none_before_the_first():
    assert due_day(ana(set_on=after(40)), after(0)) == after(40)
    assert due_day(ana(begin_on=after(29)), after(0)) == after(56)
    assert due_day(ana(set_on=after(3), begin_on=after(29)), after(0)) == after(29)


def test_it_is_owed_from_three_days_before_and_pressing_a_week_after():
    at = look([asked()], on=str(after(0)))
    at.client.check_ins = CheckIns(BEGIN, after(28), [])

    def urgency(days: int) -> str | None:
        at.day = after(days)
        return next((finding.urgency for finding in find_check_in_due(at)), None)

    assert [urgency(days) for days in (24, 25, 34, 35)] == [None, "watch", "watch", "act"]
