"""The life of a finding: it opens, changes, clears by itself, and keeps its history."""

from __future__ import annotations

import pytest

from coaching.monitoring.models import Flag, FlagEvent
from roster.people.models import Client, Coach
from tests.coaching.monitoring.files import (
    MET,
    SHORT,
    day,
    flag,
    history,
    holding,
    load_ana,
    load_logs,
    rows_of,
    stand_at,
    weekly_logs,
    weekly_plan,
)

pytestmark = pytest.mark.django_db
PLAN = weekly_plan(*["20"] * 10)


@pytest.fixture
def ana(coach: Coach) -> Client:
    """Squats short in the second, third and fourth week, met in the fifth."""
    return load_ana(coach, PLAN, *weekly_logs(MET, SHORT, SHORT, SHORT, MET))


def test_it_opens_on_the_first_day_its_condition_holds(ana: Client, coach: Coach):
    stand_at(coach, "2026-01-18")
    assert "stall" not in holding()

    stand_at(coach, "2026-01-21")

    assert flag("stall").opened_on == day("2026-01-19")
    assert history("stall") == [("opened", "2026-01-19")]


def test_it_changes_its_urgency_and_stays_the_same_episode(ana: Client, coach: Coach):
    stand_at(coach, "2026-01-21")
    opened = flag("stall")

    stand_at(coach, "2026-01-26")

    assert (opened.urgency, flag("stall").urgency) == ("watch", "act")
    assert flag("stall").pk == opened.pk
    assert history("stall") == [("opened", "2026-01-19"), ("changed", "2026-01-26")]


def test_it_clears_by_itself_and_keeps_its_history(ana: Client, coach: Coach):
    stand_at(coach, "2026-01-26", "2026-02-02")

    assert "stall" not in holding()
    assert Flag.objects.get(kind="stall").cleared_on == day("2026-02-02")
    assert history("stall") == [("opened", "2026-01-19"), ("cleared", "2026-02-02")]


def test_running_again_changes_nothing(ana: Client, coach: Coach):
    stand_at(coach, "2026-01-21", "2026-01-26", "2026-02-02")
    before = rows_of(Flag), rows_of(FlagEvent)

    stand_at(coach, "2026-02-02", "2026-02-02")

    assert (rows_of(Flag), rows_of(FlagEvent)) == before


def test_a_condition_that_comes_back_opens_an_episode_of_its_own(ana: Client, coach: Coach):
    load_logs(coach, *weekly_logs("", "", "", "", "", SHORT, SHORT))

    stand_at(coach, "2026-01-26", "2026-02-02", "2026-02-16")

    assert list(Flag.objects.filter(kind="stall").order_by("opened_on").values_list("opened_on", "holds")) == [
        (day("2026-01-19"), False), (day("2026-02-16"), True),
    ]
    assert history("stall") == [("opened", "2026-01-19"), ("cleared", "2026-02-02"), ("opened", "2026-02-16")]


def test_an_end_that_nobody_looked_at_parts_two_episodes_too(ana: Client, coach: Coach):
    load_logs(coach, *weekly_logs("", "", "", "", "", SHORT, SHORT))

    stand_at(coach, "2026-01-26", "2026-02-16")

    assert list(Flag.objects.filter(kind="stall").order_by("opened_on").values_list("opened_on", "holds")) == [
        (day("2026-01-19"), False), (day("2026-02-16"), True),
    ]
    assert ("opened", "2026-02-16") in history("stall")


def test_a_log_that_comes_late_moves_the_beginning_of_an_episode(ana: Client, coach: Coach):
    """The first week was short too, as it turns out."""
    stand_at(coach, "2026-01-21")
    opened = flag("stall")
    Client.objects.get().session_logs.get(performed_on="2026-01-05").sets.filter(number=3).update(reps=5)

    stand_at(coach, "2026-01-21")

    assert flag("stall").pk == opened.pk
    assert flag("stall").opened_on == day("2026-01-12")
    assert Flag.objects.filter(kind="stall").count() == 1


def test_logs_that_come_late_tell_of_an_episode_before_the_one_that_is_stored(ana: Client, coach: Coach):
    """The sixth and the seventh week were sent after the day that was looked at last."""
    stand_at(coach, "2026-01-26", "2026-02-02", "2026-02-18")

    load_logs(coach, *weekly_logs("", "", "", "", "", SHORT, SHORT))
    stand_at(coach, "2026-02-18")

    assert list(Flag.objects.filter(kind="stall").order_by("opened_on").values_list("opened_on", "holds")) == [
        (day("2026-01-19"), False), (day("2026-02-16"), True),
    ]


def test_thrown_away_and_computed_again_the_history_tells_nothing_twice(ana: Client, coach: Coach):
    stand_at(coach, "2026-01-21")
    before = rows_of(Flag), rows_of(FlagEvent)

    Flag.objects.all().delete()
    stand_at(coach, "2026-01-21")

    assert (rows_of(Flag), rows_of(FlagEvent)) == before


def test_turnout_stays_one_episode_while_its_subject_changes(coach: Coach):
    load_ana(coach, PLAN, *weekly_logs(MET, MET, MET, MET))
    stand_at(coach, "2026-02-11")
    assert flag("turnout").subject == "quiet"

    stand_at(coach, "2026-02-24")

    silent = flag("turnout")
    assert (silent.subject, silent.opened_on) == ("silent", day("2026-02-09"))
    assert Flag.objects.filter(kind="turnout").count() == 1
    assert history("turnout") == [("opened", "2026-02-09")]


def test_the_sentence_and_its_evidence_are_those_of_the_day(ana: Client, coach: Coach):
    stand_at(coach, "2026-01-21")
    earlier = flag("stall")
    stand_at(coach, "2026-01-26")
    later = flag("stall")

    assert "two times running" in earlier.sentence
    assert "three times running" in later.sentence
    assert [len(one.evidence["rows"]) for one in (earlier, later)] == [3, 4]


def test_findings_of_different_exercises_are_different_episodes(coach: Coach):
    plan = [row for exercise in ("Squat", "Row") for row in weekly_plan("20", "20", exercise=exercise)]
    both = {"Squat": SHORT, "Row": SHORT}
    load_ana(coach, plan, *weekly_logs(both, both))

    stand_at(coach, "2026-01-12")

    assert sorted(Flag.objects.filter(kind="stall", holds=True).values_list("subject", flat=True)) == ["Row", "Squat"]
