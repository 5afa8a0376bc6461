"""A pause entered later withdraws the turnout findings that it explains, and says so."""

from __future__ import annotations

import pytest
import time_machine

from coaching.monitoring.models import Flag
from roster.people.models import Client, Coach, Pause
from tests.coaching.monitoring.files import (
    MET,
    asked,
    day,
    done,
    flag,
    history,
    holding,
    load_ana,
    load_logs,
    noon,
    stand_at,
    weekly_logs,
    weekly_plan,
)

pytestmark = pytest.mark.django_db
PLAN = weekly_plan(*["20"] * 10)


@pytest.fixture
def quiet(coach: Coach) -> Client:
    """Ana trained on 26 January and not since; she is quiet from 9 February on."""
    with time_machine.travel(noon("2026-01-26"), tick=False):
        ana = load_ana(coach, PLAN, *weekly_logs(MET, MET, MET, MET))
    with time_machine.travel(noon("2026-02-09"), tick=False):
        stand_at(coach, "2026-02-09")
    assert flag("turnout").subject == "quiet"
    return ana


def pause(client: Client, first: str, last: str, entered: str) -> None:
    with time_machine.travel(noon(entered), tick=False):
        Pause.objects.create(client=client, from_on=day(first), until_on=day(last))


def test_a_pause_that_covers_the_missed_days_withdraws(quiet: Client, coach: Coach):
    pause(quiet, "2026-01-30", "2026-02-08", entered="2026-02-10")

    stand_at(coach, "2026-02-10")

    assert "turnout" not in holding()
    assert history("turnout") == [("opened", "2026-02-09"), ("withdrawn", "2026-02-10")]


def test_a_pause_that_covers_today_withdraws(quiet: Client, coach: Coach):
    pause(quiet, "2026-02-10", "2026-02-20", entered="2026-02-10")

    stand_at(coach, "2026-02-10")

    assert history("turnout")[-1] == ("withdrawn", "2026-02-10")


def test_a_log_clears_by_itself_though_a_pause_was_entered_that_explained_nothing(quiet: Client, coach: Coach):
    pause(quiet, "2025-12-20", "2026-01-02", entered="2026-02-10")
    stand_at(coach, "2026-02-10")
    assert "turnout" in holding()

    with time_machine.travel(noon("2026-02-11"), tick=False):
        load_logs(coach, done("2026-02-11", MET, names="6 A"))
        stand_at(coach, "2026-02-11")

    assert history("turnout")[-1] == ("cleared", "2026-02-11")


def test_a_pause_known_before_explains_no_end_of_what_opened_after_it(quiet: Client, coach: Coach):
    pause(quiet, "2025-12-20", "2026-01-02", entered="2026-01-26")
    Client.objects.update(state=Client.State.ENDED, ended_on=day("2026-02-10"))

    stand_at(coach, "2026-02-10")

    assert history("turnout")[-1] == ("cleared", "2026-02-10")


def test_a_pause_withdrawn_again_lets_the_finding_come_back(quiet: Client, coach: Coach):
    pause(quiet, "2026-01-30", "2026-02-08", entered="2026-02-10")
    stand_at(coach, "2026-02-10")

    Pause.objects.update(withdrawn_at=noon("2026-02-11"))
    stand_at(coach, "2026-02-11")

    assert (flag("turnout").subject, flag("turnout").opened_on) == ("quiet", day("2026-02-09"))
    assert Flag.objects.filter(kind="turnout").count() == 1


def test_a_plan_that_runs_out_is_withdrawn_by_a_pause_too(coach: Coach):
    ana = load_ana(coach, [asked()], *weekly_logs(MET))
    stand_at(coach, "2026-01-08")
    assert "plan_runs_out" in holding()

    pause(ana, "2026-01-09", "2026-01-18", entered="2026-01-09")
    stand_at(coach, "2026-01-09")

    assert history("plan_runs_out") == [("opened", "2026-01-08"), ("withdrawn", "2026-01-09")]


def test_during_an_announced_pause_nobody_is_missed(coach: Coach):
    load_ana(coach, PLAN, *weekly_logs(MET), pauses="2026-01-06..2026-03-20")

    stand_at(coach, "2026-01-20", "2026-02-20", "2026-03-20")

    assert not Flag.objects.filter(kind="turnout").exists()
