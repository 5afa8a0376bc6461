"""Months with little or nothing in them, and packs of one session or of forty exercises."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from coaching.check_ins.content import Change, FigureKey
from coaching.check_ins.periods import days_period
from roster.people.models import Pause
from tests.coaching.check_ins.of_ana import FEBRUARY, JANUARY, MARCH, MET, ana_with, figure, pack_of, texts
from tests.coaching.monitoring.files import asked, done, load_ana, told, weekly_logs, weekly_plan

pytestmark = pytest.mark.django_db


def test_a_month_without_a_session(coach):
    pack = pack_of(ana_with(coach, ["20"] * 8, [MET] * 4))

    assert texts(pack) == [
        "None of the 4 sessions due in February 2026 was logged, beside 4 of 4 in January 2026.",
        "No sets were logged.",
        "Nothing logged in the weeks of 2 Feb, 9 Feb and 16 Feb.",
    ]
    assert figure(pack, FigureKey.TONNAGE).now is None
    assert figure(pack, FigureKey.LOAD_STEPS).now is None
    assert figure(pack, FigureKey.DOSE).now == 0
    assert pack.questions == ("Nothing logged in the weeks of 2 Feb, 9 Feb and 16 Feb: how was that time?",)


def test_only_told_sessions(coach):
    logs = [told(row[0]["performed_on"], f"{week} A") for week, row in enumerate(weekly_logs(*[MET] * 8), start=1)]

    pack = pack_of(load_ana(coach, weekly_plan(*["20"] * 8), *logs))

    assert texts(pack)[0] == "All 4 sessions due in February 2026 were logged, beside 4 of 4 in January 2026."
    assert texts(pack)[1] == "All 4 sessions logged came without details: loads and sets are unknown."
    assert [figure(pack, key).now for key in (FigureKey.COMPLETION, FigureKey.DOSE, FigureKey.LOAD_STEPS)] == [None] * 3


def test_a_pause_of_the_whole_month_does_not_say_why(coach):
    client = ana_with(coach, ["20"] * 8, [MET] * 4, pauses="2026-02-01..2026-02-28")
    Pause.objects.update(reason=Pause.Reason.ILL)

    pack = pack_of(client)

    assert texts(pack) == [
        "No session was due in February 2026.", "No sets were logged.", "Paused all the time.",
    ]  # fmt: skip
    assert [week.note for week in pack.weeks] == ["paused"] * 4


def test_days_away_are_named(coach):
    client = ana_with(coach, ["20"] * 8, [MET] * 4 + ["", MET, MET, MET], pauses="2026-01-30..2026-02-08")
    Pause.objects.update(reason=Pause.Reason.AWAY)

    pack = pack_of(client)

    assert texts(pack)[2] == "Away Sun 1 to Sun 8 Feb."
    assert [week.note for week in pack.weeks] == ["away", "", "", ""]


def test_a_pause_with_nothing_planned_has_nothing_to_tell(coach):
    client = ana_with(coach, ["20"] * 2, [MET] * 2, pauses="2026-01-20..2026-03-20")

    pack = pack_of(client)

    assert pack.nothing == "A pause, with nothing planned or logged."
    assert (pack.sentences, pack.figures, pack.weeks) == ((), (), ())


def test_nothing_planned_and_nothing_logged_says_so(coach):
    assert pack_of(ana_with(coach, ["20"], [MET]), MARCH).nothing == "Nothing was planned or logged in this period."


def test_a_period_before_joining_says_when_they_joined(coach):
    client = ana_with(coach, ["20"] * 8, [MET] * 8, joined_on="2026-03-12")
    client.session_logs.all().delete()

    assert pack_of(client).nothing == "Joined on 12 March 2026, after this period."


def test_a_period_still_to_come_says_so(coach):
    client = ana_with(coach, ["20"] * 8, [MET] * 2)

    pack = pack_of(client, FEBRUARY, now=datetime(2026, 1, 15, 12, tzinfo=UTC))

    assert pack.nothing == "February 2026 begins on 1 February 2026, which is still to come."


def test_a_client_of_three_days(coach):
    client = load_ana(
        coach, [asked(week="8", day=day, session=day) for day in ("mon", "thu", "fri")],
        done("2026-02-27", "8@20", names="8 fri"), joined_on="2026-02-26",
    )  # fmt: skip

    pack = pack_of(client)

    assert pack.before is None
    assert texts(pack) == [
        "1 of the 2 sessions due in February 2026 was logged; of the load planned 17 % was lifted.",
        "No load step was taken; the set with the highest e1RM was 8 × 20 kg of Squat, on Fri 27 Feb.",
        "Joined on Thu 26 Feb.",
    ]


def test_a_first_month_has_no_before(coach):
    pack = pack_of(ana_with(coach, ["20"] * 4, [MET] * 4), JANUARY)

    assert pack.before is None
    assert {one.change for one in pack.figures} == {Change.UNKNOWN}
    assert {one.before_text for one in pack.figures} == {""}


def test_one_session(coach):
    pack = pack_of(ana_with(coach, ["20"], [MET]), days_period(date(2026, 1, 5), date(2026, 1, 5)))

    assert texts(pack) == [
        "The 1 session due on 5 January 2026 was logged; of the load planned 100 % was lifted.",
        "No load step was taken; the set with the highest e1RM was 8 × 20 kg of Squat, on Mon 5 Jan.",
        "In all 480 kg were lifted.",
    ]


def test_body_weight_alone(coach):
    plan = [asked(load="bw", week=str(week)) for week in range(1, 9)]
    logs = [done(row[0]["performed_on"], "8 11 8", names=f"{week} A")
            for week, row in enumerate(weekly_logs(*[MET] * 8), start=1)]

    pack = pack_of(load_ana(coach, plan, *logs))

    assert texts(pack)[0].endswith("on average 100 % of a session’s sets were done.")
    assert texts(pack)[1] == "The most in one set was 11 reps of Squat, on Mon 2 Feb."
    assert figure(pack, FigureKey.DOSE).now is None
    assert figure(pack, FigureKey.BEST_SETS).now_text == "11 reps"


def test_forty_exercises_have_a_row_and_a_staircase_each(coach):
    names = [f"Lift {number:02}" for number in range(40)]
    plan = [asked(name, week=str(week)) for week in range(1, 9) for name in names]
    logs = [done(row[0]["performed_on"], dict.fromkeys(names, MET), names=f"{week} A")
            for week, row in enumerate(weekly_logs(*[MET] * 8), start=1)]

    pack = pack_of(load_ana(coach, plan, *logs))

    best = [one.name for one in pack.figures if one.key is FigureKey.BEST_SETS]
    assert best == [f"Best set: {name}" for name in names]
    assert [one.name for one in pack.staircases] == names
