"""Pain ends by a calm report or by the coach's word; and what it silences meanwhile."""

from __future__ import annotations

import pytest
import time_machine

from coaching.monitoring import acts
from coaching.monitoring.export import export_rows
from coaching.monitoring.models import Flag
from roster.blocks.models import Exercise
from roster.logs.models import SessionLog
from roster.people.models import Coach
from tests.coaching.monitoring.files import (
    MET,
    SHORT,
    asked,
    client,
    day,
    done,
    flag,
    history,
    holding,
    load_ana,
    load_logs,
    load_rows,
    noon,
    stand_at,
    weekly_logs,
    weekly_plan,
)

pytestmark = pytest.mark.django_db
PLAN = weekly_plan(*["20"] * 10)


@pytest.fixture
def hurting(coach: Coach) -> Coach:
    """Ana's knee hurts on 5 January."""
    with time_machine.travel(noon("2026-01-05"), tick=False):
        load_ana(coach, PLAN, *weekly_logs(MET, pain="4", pain_region="Left knee"))
        stand_at(coach, "2026-01-05")
    return coach


def test_weeks_of_silence_end_no_pain(hurting: Coach):
    stand_at(hurting, "2026-01-20", "2026-06-01")

    assert (flag("pain").subject, flag("pain").opened_on) == ("Left knee", day("2026-01-05"))


def test_a_calm_report_ends_it(hurting: Coach):
    load_logs(hurting, *weekly_logs("", MET, pain="2"))

    stand_at(hurting, "2026-01-12")

    assert "pain" not in holding()
    assert history("pain") == [("opened", "2026-01-05"), ("cleared", "2026-01-12")]


def test_the_region_is_written_as_the_client_wrote_it_then(hurting: Coach):
    """Neither how another client writes it nor how it is written later changes what was found before."""
    load_rows("clients", [client(client="bea")], hurting)
    load_logs(hurting, done("2026-01-05", "", names="", client="bea", pain="5", pain_region="LEFT KNEE", minutes="9"))
    load_logs(hurting, *weekly_logs("", MET, pain="5", pain_region="left knee"))

    stand_at(hurting, "2026-01-05")
    subjects = dict(Flag.objects.filter(kind="pain").values_list("client__key", "subject"))
    assert subjects == {"ana": "Left knee", "bea": "LEFT KNEE"}

    stand_at(hurting, "2026-01-12")
    assert Flag.objects.get(kind="pain", client__key="ana").subject == "left knee"


def test_pain_that_nobody_placed_says_so(coach: Coach):
    load_ana(coach, PLAN, *weekly_logs(MET, pain="4"))

    stand_at(coach, "2026-01-05")

    assert flag("pain").subject == "unspecified"


def close(coach: Coach, at: str, on: str) -> None:
    with time_machine.travel(at, tick=False):
        acts.close(flag=flag("pain"), by=coach, on=day(on), reason="seen by a physiotherapist")


def test_the_coach_s_close_ends_it_and_later_reports_open_a_new_one(hurting: Coach):
    close(hurting, "2026-01-06T09:00Z", "2026-01-06")
    stand_at(hurting, "2026-01-06", "2026-01-11")
    assert "pain" not in holding()
    assert history("pain") == [("opened", "2026-01-05"), ("closed", "2026-01-06")]

    with time_machine.travel(noon("2026-01-12"), tick=False):
        load_logs(hurting, *weekly_logs("", MET, pain="3"))
    stand_at(hurting, "2026-01-12")

    assert (flag("pain").urgency, flag("pain").opened_on) == ("watch", day("2026-01-12"))


@pytest.mark.parametrize("pain", ["3", "4", "8"])
def test_a_report_that_came_in_after_the_close_of_the_same_day_is_not_swallowed(hurting: Coach, pain: str):
    close(hurting, "2026-01-05T15:00Z", "2026-01-05")
    stand_at(hurting, "2026-01-05")
    assert "pain" not in holding()

    with time_machine.travel("2026-01-05T20:00Z", tick=False):
        load_logs(hurting, done("2026-01-05", "", names="", pain=pain, minutes="10"))
    stand_at(hurting, "2026-01-05")

    assert Flag.objects.standing().filter(kind="pain").count() == 1
    assert [row["kind"] for row in _exported(hurting, "2026-01-06") if row["kind"] == "pain"] == ["pain"]


def test_pain_of_the_next_morning_counts_after_that_of_the_session(coach: Coach):
    load_ana(coach, PLAN, *weekly_logs(MET, pain="1"))
    SessionLog.objects.update(pain_next_morning=6)

    stand_at(coach, "2026-01-06")

    assert flag("pain").urgency == "now"


def test_an_alarm_symptom_is_now_without_any_pain(coach: Coach):
    load_ana(coach, PLAN, *weekly_logs(MET))
    SessionLog.objects.update(has_alarm_symptom=True)

    stand_at(coach, "2026-01-06")

    assert flag("pain").urgency == "now"
    assert flag("pain").sentence.startswith("An alarm symptom was reported.")


def _exported(coach: Coach, on: str) -> list[dict]:
    return export_rows("flags", coach.studio, as_of=day(on))


# A round of two weeks: in the last one all is met, or all is short.
ROUND = [asked(week="1"), asked(week="2", rest_s="60", changed="rest")]


@pytest.mark.parametrize(("sets", "kind"), [(SHORT, "stall"), (MET, "ready"), ("8@20 8@20 10@20", "too_easy")])
def test_open_pain_silences_exercises_tied_to_its_region(coach: Coach, sets: str, kind: str):
    load_ana(coach, ROUND, *weekly_logs(sets, sets))
    load_logs(coach, done("2026-01-13", "", names="", pain="4", pain_region=" left KNEE", minutes="10"))
    stand_at(coach, "2026-01-12", "2026-01-13")
    assert {kind, "pain"} <= set(holding())

    Exercise.objects.filter(name="Squat").update(regions=["Left knee", "hip"])
    stand_at(coach, "2026-01-13")

    assert kind not in holding()
    assert "pain" in holding()


def test_they_speak_again_once_the_pain_has_ended(coach: Coach):
    load_ana(coach, ROUND, *weekly_logs(SHORT, SHORT))
    load_logs(coach, done("2026-01-13", "", names="", pain="4", pain_region="left knee", minutes="10"))
    Exercise.objects.filter(name="Squat").update(regions=["left knee"])
    stand_at(coach, "2026-01-13")
    assert "stall" not in holding()

    close(coach, "2026-01-14T09:00Z", "2026-01-14")
    stand_at(coach, "2026-01-14")

    assert (flag("stall").urgency, flag("stall").opened_on) == ("watch", day("2026-01-14"))


def test_pain_elsewhere_silences_nothing(coach: Coach):
    load_ana(coach, ROUND, *weekly_logs(SHORT, SHORT, pain="4", pain_region="shoulder"))
    Exercise.objects.filter(name="Squat").update(regions=["left knee"])

    stand_at(coach, "2026-01-13")

    assert {"pain", "stall"} <= set(holding())


@pytest.mark.parametrize("pain_region", ["", "left knee"])
def test_a_blank_among_the_regions_of_an_exercise_silences_nothing(coach: Coach, pain_region: str):
    load_ana(coach, ROUND, *weekly_logs(SHORT, SHORT, pain="4", pain_region=pain_region))
    Exercise.objects.filter(name="Squat").update(regions=["hip", " "])

    stand_at(coach, "2026-01-13")

    assert {"pain", "stall"} <= set(holding())


def test_a_blank_region_silences_nothing_for_somebody_without_pain(coach: Coach):
    load_ana(coach, ROUND, *weekly_logs(SHORT, SHORT))
    Exercise.objects.filter(name="Squat").update(regions=[""])

    stand_at(coach, "2026-01-13")

    assert "stall" in holding()
