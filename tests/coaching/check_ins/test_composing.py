"""Packs of one client: periods, weeks, staircases, names."""

from __future__ import annotations

from datetime import date

import pytest

from coaching.check_ins.content import Period
from tests.coaching.check_ins.of_ana import AS_ASKED, EIGHT_WEEKS, MET, ana_with, extra, pack_of, texts
from tests.coaching.monitoring.files import asked, done, load_ana, told, weekly_logs, weekly_plan

pytestmark = pytest.mark.django_db


def test_a_block_stands_beside_the_block_before(coach):
    first = weekly_plan(*["20"] * 3)
    second = [asked(block="Build", starts_on="2026-01-26", week=str(week), load="22") for week in (1, 2, 3)]
    client = load_ana(coach, first + second, *weekly_logs(MET, MET, ""))

    pack = pack_of(client, Period(date(2026, 1, 26), date(2026, 2, 15), "Build"))

    assert (pack.before.title, pack.before.first) == ("Base", date(2026, 1, 5))
    assert texts(pack)[0] == "None of the 3 sessions due in Build was logged, beside 2 of 3 in Base."


def test_the_weeks_as_marks_cut_where_the_month_begins_and_ends(coach):
    plan = [asked(week="4", day=day, session=day) for day in ("fri", "sun")] + [asked(week="5")]
    client = load_ana(coach, plan, done("2026-02-01", names="4 sun"), extra("2026-02-04", "8@20 8@20"))

    first, second = pack_of(client).weeks

    assert [(mark.label, mark.status) for mark in first.marks] == [("sun", "done")]
    assert (first.block, first.block_week, first.due, first.attended, first.tonnage_kg) == ("Base", 4, 1, 1, 480)
    assert (second.extras, second.due, second.attended) == ((2,), 1, 0)


def test_sessions_beside_the_plan_without_details_and_later_are_told(coach):
    client = load_ana(
        coach, weekly_plan(*["20"] * 8), *weekly_logs(MET, MET, MET, MET, MET), told("2026-02-09", "6 A"),
        done("2026-02-24", MET, names="7 A"), extra("2026-02-11"),
    )  # fmt: skip

    assert texts(pack_of(client))[2] == (
        "Nothing logged in the week of 16 Feb; 1 session came without details; 1 session was done beside the plan."
    )


def test_staircases_reach_over_the_weeks_of_the_period(coach):
    pack = pack_of(ana_with(coach, EIGHT_WEEKS, AS_ASKED))

    (stairs,) = pack.staircases
    assert [dot.suggested_on.isoformat() for dot in stairs.dots] == [
        "2026-01-26", "2026-02-02", "2026-02-09", "2026-02-16", "2026-02-23",
    ]  # fmt: skip


def test_names_stand_as_they_are(coach):
    coach.first_name, coach.last_name = "Vera", "Holm"
    coach.save()

    pack = pack_of(ana_with(coach, ["20"] * 8, [MET] * 8, name="<b>Ana</b>"))

    assert (pack.client_name, pack.coach_name, pack.studio_name) == ("<b>Ana</b>", "Vera Holm", coach.studio.name)
