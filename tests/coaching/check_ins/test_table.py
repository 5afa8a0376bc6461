"""The table of a pack and which logs it counts: this period beside the one before."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from coaching.check_ins.content import Change, FigureKey
from coaching.check_ins.periods import days_period
from tests.coaching.check_ins.of_ana import AS_ASKED, EIGHT_WEEKS, FEBRUARY, MET, ana_with, figure, pack_of, texts
from tests.coaching.monitoring.files import asked, done, load_ana, weekly_logs, weekly_plan

pytestmark = pytest.mark.django_db


def test_a_month_beside_the_month_before(coach):
    pack = pack_of(ana_with(coach, EIGHT_WEEKS, [*AS_ASKED[:6], "", "8@22"]))

    assert (pack.period.title, pack.before.title) == ("February 2026", "January 2026")
    turnout = figure(pack, FigureKey.TURNOUT)
    assert (turnout.now_text, turnout.before_text, turnout.now) == ("3 of 4", "4 of 4", 0.75)
    assert turnout.change is Change.TOO_LITTLE
    assert "Wilson" in turnout.made
    assert "Newcombe" in turnout.made


def test_the_sentences_say_who_came_what_moved_and_how_the_time_was(coach):
    pack = pack_of(ana_with(coach, EIGHT_WEEKS, AS_ASKED))

    assert texts(pack) == [
        "All 4 sessions due in February 2026 were logged, beside 4 of 4 in January 2026; of the load planned 100 % was "
        "lifted.",
        "1 load step was taken: Squat from 20 kg to 22 kg on Mon 2 Feb.",
        "Each of the 3 whole weeks had a session; in all 2,112 kg were lifted.",
    ]


def test_pounds_are_told_as_pounds(coach):
    pack = pack_of(ana_with(coach, ["40", "45"] * 4, ["8@40 8@40 8@40", "8@45 8@45 8@45"] * 4, unit="lb"))

    assert "from 40 lb to 45 lb" in texts(pack)[1]
    assert figure(pack, FigureKey.TONNAGE).now_text == "4,080 lb"
    assert figure(pack, FigureKey.BEST_SETS).now_text == "8 × 45 lb (e1RM 57.0 lb)"


def test_a_best_set_is_told_as_risen_beyond_its_measurement_error_alone(coach):
    a_little = pack_of(ana_with(coach, ["20"] * 8, [MET] * 4 + ["10@20"] * 4))

    assert figure(a_little, FigureKey.BEST_SETS).change is Change.TOO_LITTLE


def test_a_best_set_that_rose_by_more_is_in_a_sentence(coach):
    pack = pack_of(ana_with(coach, ["20"] * 8, ["8@16 8@16 8@16"] * 4 + [MET] * 4))

    best = figure(pack, FigureKey.BEST_SETS)
    assert (best.change, best.change_text) == (Change.MORE, "+25 %")
    assert texts(pack)[1] == (
        "No load step was taken; the best set of Squat was 8 × 20 kg, on Mon 2 Feb, beside 8 × 16 kg before."
    )


def test_tonnage_and_session_load_are_shown_and_not_judged(coach):
    plan = weekly_plan(*["20"] * 8)
    logs = [done(row[0]["performed_on"], MET, names=f"{week} A", minutes="30", rpe="7")
            for week, row in enumerate(weekly_logs(*[MET] * 8), start=1)]
    pack = pack_of(load_ana(coach, plan, *logs))

    told = [figure(pack, key) for key in (FigureKey.TONNAGE, FigureKey.SESSION_LOAD)]
    assert [(one.now_text, one.change) for one in told] == [
        ("1,920 kg", Change.NOT_JUDGED), ("840", Change.NOT_JUDGED),
    ]  # fmt: skip


def test_load_steps_are_counted_with_their_days_and_not_judged(coach):
    steps = figure(pack_of(ana_with(coach, EIGHT_WEEKS, AS_ASKED)), FigureKey.LOAD_STEPS)

    assert (steps.now, steps.before, steps.change, steps.change_text) == (1, 0, Change.NOT_JUDGED, "+1")
    assert "Squat from 20 kg to 22 kg on Mon 2 Feb" in steps.made


def test_a_clear_fall_of_turnout_is_told_in_points(coach):
    client = ana_with(coach, ["20"] * 16, [MET] * 8 + ["", "", MET])

    turnout = figure(pack_of(client, days_period(date(2026, 3, 2), date(2026, 4, 26))), FigureKey.TURNOUT)

    assert (turnout.now_text, turnout.before_text) == ("1 of 8", "8 of 8")
    assert (turnout.change, turnout.change_text) == (Change.LESS, "-88 points")


def test_a_session_of_the_last_day_that_is_done_in_the_next_month_counts(coach):
    plan = [asked(week="8", day="sat", session="A")]
    client = load_ana(coach, plan, done("2026-03-01", MET, names="8 A"))

    pack = pack_of(client, FEBRUARY)

    assert figure(pack, FigureKey.TURNOUT).now_text == "1 of 1"
    assert figure(pack, FigureKey.TONNAGE).now_text == ""


def test_a_month_that_still_runs_is_told_so_far(coach):
    client = ana_with(coach, ["20"] * 8, [MET] * 6)

    pack = pack_of(client, FEBRUARY, now=datetime(2026, 2, 12, 12, tzinfo=UTC))

    assert pack.as_of == date(2026, 2, 12)
    assert texts(pack)[0].startswith("All 2 sessions due in February 2026 so far were logged")


def test_logs_after_the_day_asked_for_are_not_read(coach):
    client = ana_with(coach, ["20"] * 8, [MET] * 8)

    pack = pack_of(client, FEBRUARY, as_of=date(2026, 2, 10))

    assert figure(pack, FigureKey.TURNOUT).now_text == "2 of 2"
    assert figure(pack, FigureKey.TONNAGE).now_text == "960 kg"
