"""Standing at an earlier day and coming forward again: what is stored follows, and nothing is told twice."""

from __future__ import annotations

from datetime import timedelta

import pytest

from coaching.monitoring import acts
from coaching.monitoring.export import export_rows
from coaching.monitoring.models import Flag
from roster.people.models import Client, Coach
from tests.coaching.monitoring.files import (
    MET,
    SHORT,
    day,
    flag,
    history,
    holding,
    load_ana,
    load_rows,
    rows_of,
    stand_at,
    weekly_logs,
    weekly_plan,
)
from tests.rosters.generate import FIRST_MONDAY, random_roster

pytestmark = pytest.mark.django_db
PLAN = weekly_plan(*["20"] * 10)
TO_WATCH, TO_ACT, CLEARED, AGAIN, LAST = "2026-01-21", "2026-01-26", "2026-02-02", "2026-02-16", "2026-02-23"


@pytest.fixture
def ana(coach: Coach) -> Client:
    """A stall from 19 January, to act on from the 26th, cleared on 2 February; another from the 16th to the 23rd."""
    return load_ana(coach, PLAN, *weekly_logs(MET, SHORT, SHORT, SHORT, MET, SHORT, SHORT, MET))


def stalls() -> list[tuple]:
    """Opened, holds, cleared."""
    found = Flag.objects.filter(kind="stall").order_by("opened_on")
    return list(found.values_list("opened_on", "holds", "cleared_on"))


def test_an_episode_that_had_not_begun_does_not_hold(ana: Client, coach: Coach):
    stand_at(coach, AGAIN, "2026-01-18")

    assert "stall" not in holding()


def test_going_back_shows_the_episode_of_that_day_as_it_was(ana: Client, coach: Coach):
    stand_at(coach, TO_ACT, CLEARED, AGAIN, TO_WATCH)

    assert (flag("stall").opened_on, flag("stall").urgency) == (day("2026-01-19"), "watch")
    assert flag("stall").cleared_on is None


def test_coming_forward_again_finds_the_later_episode_in_its_place(ana: Client, coach: Coach):
    stand_at(coach, TO_ACT, CLEARED, AGAIN)
    before = rows_of(Flag)

    stand_at(coach, TO_WATCH, AGAIN)

    # The first one's end was looked at on another day this time.
    assert [row[:2] for row in stalls()] == [(day("2026-01-19"), False), (day(AGAIN), True)]
    assert len(rows_of(Flag)) == len(before)


def test_back_and_forth_the_history_tells_nothing_twice(ana: Client, coach: Coach):
    days = [TO_WATCH, TO_ACT, CLEARED, AGAIN, LAST]
    stand_at(coach, *days)
    told = history("stall")
    assert told == [
        ("opened", "2026-01-19"), ("changed", TO_ACT), ("cleared", CLEARED), ("opened", AGAIN), ("cleared", LAST),
    ]

    stand_at(coach, TO_ACT, "2026-01-05", TO_WATCH, "2026-01-30", AGAIN, TO_WATCH, LAST, *days)

    assert history("stall") == told
    assert stalls() == [(day("2026-01-19"), False, day(CLEARED)), (day(AGAIN), False, day(LAST))]


def test_an_episode_left_behind_while_standing_earlier_is_over_when_coming_forward(ana: Client, coach: Coach):
    stand_at(coach, AGAIN, "2026-01-18", LAST)

    assert stalls() == [(day(AGAIN), False, day(LAST))]
    assert history("stall") == [("opened", AGAIN), ("cleared", LAST)]


def test_acts_hold_from_the_day_they_were_made_on(ana: Client, coach: Coach):
    stand_at(coach, TO_WATCH)
    acts.close(flag=flag("stall"), by=coach, on=day(TO_WATCH), reason="a new bench")

    stand_at(coach, "2026-01-20")
    assert flag("stall").closed_on is None

    stand_at(coach, "2026-01-22")
    assert flag("stall").closed_on == day(TO_WATCH)

    stand_at(coach, TO_ACT)
    assert flag("stall").closed_on is None

    stand_at(coach, "2026-01-22")
    assert flag("stall").closed_on == day(TO_WATCH)


def test_acts_of_a_later_day_are_there_again_on_coming_forward(ana: Client, coach: Coach):
    stand_at(coach, TO_ACT)
    acts.mark_seen(flag=flag("stall"), by=coach, on=day(TO_ACT))
    acts.put_aside(flag=flag("stall"), by=coach, on=day(TO_ACT), until=day("2026-02-10"))

    stand_at(coach, TO_WATCH)
    assert (flag("stall").seen_on, flag("stall").put_aside_until) == (None, None)

    stand_at(coach, "2026-01-27")
    assert (flag("stall").seen_on, flag("stall").put_aside_until) == (day(TO_ACT), day("2026-02-10"))


def test_a_reopening_is_told_once_however_often_it_is_passed(ana: Client, coach: Coach):
    stand_at(coach, TO_WATCH)
    acts.close(flag=flag("stall"), by=coach, on=day(TO_WATCH), reason="a new bench")

    stand_at(coach, TO_ACT, TO_WATCH, TO_ACT, TO_WATCH, TO_ACT)

    assert [what for what, _ in history("stall")].count("reopened") == 1


def test_day_by_day_every_finding_holds_from_the_day_that_export_says(coach: Coach):
    """Live: findings stored each day and carried on; export: the record looked at as at one day."""
    roster = random_roster(21, clients=3, weeks=9)
    for kind in ("clients", "blocks", "logs"):
        load_rows(kind, getattr(roster, kind), coach)
    first, last = FIRST_MONDAY + timedelta(days=24), FIRST_MONDAY + timedelta(days=52)
    days = [first + timedelta(days=number) for number in range((last - first).days + 1)]

    for one in days:
        stand_at(coach, one.isoformat())
        stored = {
            (found.client.key, found.kind, found.subject, found.urgency, found.opened_on)
            for found in Flag.objects.filter(holds=True).select_related("client")
        }
        exported = {
            (row["client"], row["kind"], row["subject"], row["urgency"], row["opened_on"])
            for row in export_rows("flags", coach.studio, as_of=one)
        }
        assert stored == exported, one
    assert len(Flag.objects.values("kind").distinct()) > 5
