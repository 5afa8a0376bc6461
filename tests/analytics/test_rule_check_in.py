"""When is a check-in call due, and since when has it been owed? Days are counted from joining on Monday 5 January."""

from __future__ import annotations

from datetime import date, timedelta
from random import Random

import pytest

from analytics.assessment import assess
from analytics.findings_schema import Kind, Urgency
from analytics.flag_thresholds import Thresholds
from analytics.training_weeks import to_date
from tests.analytics.answers import findings, found
from tests.analytics.frames import assessed, client, day_of
from tests.analytics.invented import draw_check_ins, frames_of
from tests.plain_twin.findings import findings_on, opened_on
from tests.plain_twin.reading import read_record
from tests.rosters.generate import FIRST_MONDAY, random_roster

JOINED = date(2026, 1, 5)
EARLY = "2026-01-01"


def after(days: int) -> str:
    return (JOINED + timedelta(days=days)).isoformat()


def urgency(days: int, **about: object) -> str | None:
    """Of the call owed so many days after joining."""
    told = assessed(on=after(days), clients=[client(joined=after(0))], **{"check_ins_from": EARLY, **about})
    return findings(told).get("check_in_due")


@pytest.mark.parametrize(
    ("days", "expected"), [(24, None), (25, "watch"), (28, "watch"), (34, "watch"), (35, "act"), (300, "act")]
)
def test_a_first_call_is_owed_from_three_days_before_four_weeks_and_pressing_a_week_after(
    days: int, expected: str | None
):
    assert urgency(days) == expected


@pytest.mark.parametrize(("held", "owed_from"), [(25, 53), (28, 53), (41, 53), (42, 53), (43, 81)])
def test_the_next_keeps_to_the_rhythm_and_leaves_two_weeks_between(held: int, owed_from: int):
    """The rhythm's days are 28, 56, 84."""
    calls = [(after(28), after(held))]

    assert urgency(owed_from - 1, calls=calls) is None
    assert urgency(owed_from, calls=calls) == "watch"


def test_holding_it_ends_it_on_that_day():
    calls = [(after(28), after(30))]

    assert urgency(29, calls=calls) == "watch"
    assert urgency(30, calls=calls) is None


def test_moving_it_ends_it_until_it_is_due_again():
    assert urgency(40) == "act"
    assert urgency(40, call_set=after(50)) is None
    assert urgency(47, call_set=after(50)) == "watch"


def test_no_call_is_due_before_the_studio_has_them():
    """Neither by the rhythm of somebody who has been there for years, nor by a day set long ago."""
    assert urgency(300, check_ins_from=after(304)) is None
    assert urgency(305, check_ins_from=after(304)) == "watch"
    assert urgency(300, check_ins_from=after(304), call_set=after(20)) is None
    assert urgency(305, check_ins_from=after(304), call_set=after(20)) == "watch"


def test_a_studio_without_them_owes_none():
    assert urgency(300, check_ins_from="") is None
    assert urgency(300, check_ins_from="", calls=[(after(28), after(28))]) is None


def test_due_in_a_pause_it_is_due_when_that_ends():
    """Two pauses that follow on each other are one."""
    pauses = [(after(20), after(30)), (after(31), after(40))]

    assert urgency(28, pauses=pauses) is None
    assert urgency(40, pauses=pauses) is None
    assert [urgency(day, pauses=pauses) for day in (41, 47, 48)] == ["watch", "watch", "act"]


def test_nobody_is_owed_a_call_who_is_not_active():
    told = assessed(on=after(40), clients=[client(joined=after(0), is_active=False)], check_ins_from=EARLY)

    assert findings(told) == {}


def test_it_tells_since_when_it_has_been_owed_and_how_late_it_is():
    about = {"clients": [client(joined=after(0))], "check_ins_from": EARLY}
    soon = found(assessed(on=after(26), **about), Kind.CHECK_IN_DUE)
    late = found(assessed(on=after(90), **about), Kind.CHECK_IN_DUE)

    assert (soon["count"], soon["opened_day"]) == (-2, day_of(after(25)))
    assert (late["count"], late["opened_day"]) == (62, day_of(after(25)))


def test_the_rhythm_and_both_bounds_are_the_studio_s():
    own = Thresholds.with_settings({"check_in_every_days": 14, "check_in_ahead_days": 1, "check_in_late_days": 2})

    assert [urgency(day, thresholds=own) for day in (12, 13, 15, 16)] == [None, "watch", "watch", "act"]


@pytest.mark.parametrize("seed", range(30, 42))
def test_on_drawn_rosters_it_is_what_a_replay_day_by_day_says(seed: int):
    roster = random_roster(seed, clients=5, weeks=14)
    record = read_record(roster.clients, roster.blocks, roster.logs)
    draw_check_ins(record, Random(seed), 14)
    on = FIRST_MONDAY + timedelta(weeks=9, days=seed % 7)

    told = assess(frames_of(record, on)).findings
    of_kind = told.rows(told["kind"] == Kind.CHECK_IN_DUE).records()

    expected = [
        (number, finding.urgency, opened_on(record, one, finding, on))
        for number, one in enumerate(record.clients)
        for finding in findings_on(record, one, on) if finding.kind == "check_in_due"
    ]  # fmt: skip
    found_of = [(row["client_row"], Urgency(row["urgency"]).name.lower(), row["opened_day"]) for row in of_kind]
    assert [(number, said, to_date(day)) for number, said, day in found_of] == expected
