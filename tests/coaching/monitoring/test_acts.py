"""What coaches do about findings, and what a worse state undoes."""

from __future__ import annotations

from datetime import timedelta

import pytest

from coaching.monitoring import acts
from coaching.monitoring.acts import ActRefused
from coaching.monitoring.models import Flag, FlagEvent
from roster.people.models import Client, Coach, Contact
from tests.coaching.monitoring.files import (
    MET,
    SHORT,
    day,
    flag,
    history,
    load_ana,
    load_logs,
    stand_at,
    weekly_logs,
    weekly_plan,
)

pytestmark = pytest.mark.django_db
PLAN = weekly_plan(*["20"] * 10)
TO_WATCH, TO_ACT, CLEARED = "2026-01-21", "2026-01-26", "2026-02-02"
ON = day(TO_WATCH)


@pytest.fixture
def ana(coach: Coach) -> Client:
    """A stall: to watch from 19 January on, to act on from the 26th, cleared on 2 February."""
    ana = load_ana(coach, PLAN, *weekly_logs(MET, SHORT, SHORT, SHORT, MET))
    stand_at(coach, TO_WATCH)
    return ana


def on_the_list(as_of: str) -> bool:
    return any(not stall.is_put_aside(day(as_of)) for stall in Flag.objects.standing().filter(kind="stall"))


def test_seen_is_noted_with_who_and_what(ana: Client, coach: Coach):
    acts.mark_seen(flag=flag("stall"), by=coach, on=ON, note="rang her")

    event = FlagEvent.objects.latest("pk")
    assert flag("stall").seen_on == ON
    assert (event.what, event.by, event.on, event.note, event.urgency) == ("seen", coach, ON, "rang her", "watch")


def test_seen_holds_until_it_becomes_worse(ana: Client, coach: Coach):
    acts.mark_seen(flag=flag("stall"), by=coach, on=ON)

    stand_at(coach, "2026-01-22")
    assert flag("stall").seen_on == ON

    stand_at(coach, TO_ACT)
    assert flag("stall").seen_on is None


def test_put_aside_is_off_the_list_until_the_day(ana: Client, coach: Coach):
    acts.put_aside(flag=flag("stall"), by=coach, on=ON, until=ON + timedelta(days=2))

    assert not on_the_list("2026-01-22")
    assert on_the_list("2026-01-23")


def test_put_aside_comes_back_when_it_becomes_worse(ana: Client, coach: Coach):
    acts.put_aside(flag=flag("stall"), by=coach, on=ON, until=day("2026-03-01"))

    stand_at(coach, "2026-01-25")
    assert not on_the_list("2026-01-25")

    stand_at(coach, TO_ACT)
    assert on_the_list(TO_ACT)


@pytest.mark.parametrize("until", [ON, ON - timedelta(days=1)])
def test_it_is_put_aside_until_a_day_to_come(ana: Client, coach: Coach, until):
    with pytest.raises(ActRefused, match="still to come"):
        acts.put_aside(flag=flag("stall"), by=coach, on=ON, until=until)

    assert flag("stall").put_aside_until is None


@pytest.mark.parametrize("reason", ["", "  "])
def test_it_is_closed_with_a_reason_only(ana: Client, coach: Coach, reason: str):
    with pytest.raises(ActRefused, match="why"):
        acts.close(flag=flag("stall"), by=coach, on=ON, reason=reason)

    assert flag("stall").closed_on is None


def test_closed_stays_closed_while_it_is_no_worse(ana: Client, coach: Coach):
    acts.close(flag=flag("stall"), by=coach, on=ON, reason="a new bench")

    stand_at(coach, "2026-01-22", "2026-01-25")

    assert flag("stall").closed_on == ON
    assert not on_the_list("2026-01-25")
    assert history("stall") == [("opened", "2026-01-19"), ("closed", TO_WATCH)]


def test_a_worse_state_opens_it_again_and_says_so_once(ana: Client, coach: Coach):
    acts.close(flag=flag("stall"), by=coach, on=ON, reason="a new bench")

    stand_at(coach, TO_ACT, TO_ACT, "2026-01-27")

    assert on_the_list("2026-01-27")
    assert history("stall") == [
        ("opened", "2026-01-19"), ("closed", TO_WATCH), ("changed", TO_ACT), ("reopened", TO_ACT),
    ]


def test_closed_again_when_worse_it_stays_closed(ana: Client, coach: Coach):
    acts.close(flag=flag("stall"), by=coach, on=ON, reason="a new bench")
    stand_at(coach, TO_ACT)

    acts.close(flag=flag("stall"), by=coach, on=day(TO_ACT), reason="she changes the exercise")
    stand_at(coach, "2026-01-27")

    assert not on_the_list("2026-01-27")


def test_the_end_of_a_closed_finding_is_not_told_again(ana: Client, coach: Coach):
    acts.close(flag=flag("stall"), by=coach, on=ON, reason="a new bench")

    stand_at(coach, "2026-01-25", CLEARED)

    assert "cleared" not in dict(history("stall"))
    assert Flag.objects.get(kind="stall").cleared_on == day(CLEARED)


def test_acts_belong_to_their_episode(ana: Client, coach: Coach):
    acts.mark_seen(flag=flag("stall"), by=coach, on=ON)
    acts.close(flag=flag("stall"), by=coach, on=ON, reason="a new bench")
    load_logs(coach, *weekly_logs("", "", "", "", "", SHORT, SHORT))

    stand_at(coach, CLEARED, "2026-02-16")

    assert (flag("stall").closed_on, flag("stall").seen_on) == (None, None)


def test_silence_is_worse_than_quiet(coach: Coach):
    load_ana(coach, PLAN, *weekly_logs(MET, MET))
    stand_at(coach, "2026-01-28")
    acts.close(flag=flag("turnout"), by=coach, on=day("2026-01-28"), reason="moving house")

    stand_at(coach, "2026-02-08")
    assert (flag("turnout").subject, flag("turnout").closed_on) == ("quiet", day("2026-01-28"))

    stand_at(coach, "2026-02-09")
    assert (flag("turnout").subject, flag("turnout").closed_on) == ("silent", None)


def test_pain_is_put_aside_for_a_day_at_most_and_with_a_contact(coach: Coach):
    ana = load_ana(coach, PLAN, *weekly_logs(MET, pain="4"))
    stand_at(coach, "2026-01-06")
    on, pain = day("2026-01-06"), flag("pain")

    with pytest.raises(ActRefused, match="contact"):
        acts.put_aside(flag=pain, by=coach, on=on, until=on + timedelta(days=1))
    Contact.objects.create(client=ana, made_by=coach, made_on=on, how=Contact.How.CALL)
    with pytest.raises(ActRefused, match="a day at most"):
        acts.put_aside(flag=pain, by=coach, on=on, until=on + timedelta(days=2))
    acts.put_aside(flag=pain, by=coach, on=on, until=on + timedelta(days=1))

    assert flag("pain").put_aside_until == day("2026-01-07")


def test_a_contact_of_last_week_puts_no_pain_aside(coach: Coach):
    ana = load_ana(coach, PLAN, *weekly_logs(MET, pain="4"))
    stand_at(coach, "2026-01-13")
    Contact.objects.create(client=ana, made_by=coach, made_on=day("2026-01-06"), how=Contact.How.CALL)

    with pytest.raises(ActRefused, match="contact"):
        acts.put_aside(flag=flag("pain"), by=coach, on=day("2026-01-13"), until=day("2026-01-14"))
