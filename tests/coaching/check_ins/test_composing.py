"""Packs of one client: every part of them, and the odd months."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from coaching.check_ins.content import Answer, Change, FigureKey, Period
from coaching.check_ins.periods import days_period
from coaching.monitoring.export import export_rows
from coaching.monitoring.models import FlagEvent, Urgency
from roster.people.models import CheckIn, CheckInAnswer, Contact, Pause, Promise
from tests.coaching.check_ins.of_ana import FEBRUARY, JANUARY, MARCH, MET, ana_with, extra, figure, pack_of, texts
from tests.coaching.monitoring.files import SHORT, asked, done, load_ana, told, weekly_logs, weekly_plan

pytestmark = pytest.mark.django_db
EIGHT_WEEKS = ["20"] * 4 + ["22"] * 4
AS_ASKED = [MET] * 4 + ["8@22 8@22 8@22"] * 4


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
        "All 4 sessions due in February 2026 took place, beside 4 of 4 in January 2026; of the load planned 100 % was "
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
    assert texts(pack)[0].startswith("All 2 sessions due in February 2026 so far took place")


def test_logs_after_the_day_asked_for_are_not_read(coach):
    client = ana_with(coach, ["20"] * 8, [MET] * 8)

    pack = pack_of(client, FEBRUARY, as_of=date(2026, 2, 10))

    assert figure(pack, FigureKey.TURNOUT).now_text == "2 of 2"
    assert figure(pack, FigureKey.TONNAGE).now_text == "960 kg"


def test_a_month_without_a_session(coach):
    pack = pack_of(ana_with(coach, ["20"] * 8, [MET] * 4))

    assert texts(pack) == [
        "None of the 4 sessions due in February 2026 took place, beside 4 of 4 in January 2026.",
        "No sets were logged.",
        "No session in the weeks of 2 Feb, 9 Feb and 16 Feb.",
    ]
    assert figure(pack, FigureKey.TONNAGE).now is None
    assert figure(pack, FigureKey.LOAD_STEPS).now is None
    assert figure(pack, FigureKey.DOSE).now == 0
    assert pack.questions == ("No session in the weeks of 2 Feb, 9 Feb and 16 Feb: how was that time?",)


def test_only_told_sessions(coach):
    logs = [told(row[0]["performed_on"], f"{week} A") for week, row in enumerate(weekly_logs(*[MET] * 8), start=1)]

    pack = pack_of(load_ana(coach, weekly_plan(*["20"] * 8), *logs))

    assert texts(pack)[0] == "All 4 sessions due in February 2026 took place, beside 4 of 4 in January 2026."
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
        "1 of the 2 sessions due in February 2026 took place; of the load planned 17 % was lifted.",
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
        "The 1 session due on 5 January 2026 took place; of the load planned 100 % was lifted.",
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


def test_a_block_stands_beside_the_block_before(coach):
    first = weekly_plan(*["20"] * 3)
    second = [asked(block="Build", starts_on="2026-01-26", week=str(week), load="22") for week in (1, 2, 3)]
    client = load_ana(coach, first + second, *weekly_logs(MET, MET, ""))

    pack = pack_of(client, Period(date(2026, 1, 26), date(2026, 2, 15), "Build"))

    assert (pack.before.title, pack.before.first) == ("Base", date(2026, 1, 5))
    assert texts(pack)[0] == "None of the 3 sessions due in Build took place, beside 2 of 3 in Base."


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
        "No session in the week of 16 Feb; 1 session came without details; 1 session was done beside the plan."
    )


def test_what_was_found_stands_with_its_end_and_what_was_done(coach):
    client = ana_with(coach, ["20"] * 8, [MET, MET, MET, SHORT, SHORT, SHORT, MET, MET])
    about = {"client": client, "kind": "stall", "subject": "Squat", "urgency": Urgency.WATCH, "by": coach}
    FlagEvent.objects.create(**about, what=FlagEvent.What.SEEN, on=date(2026, 2, 10), note="rang her")

    (stall,) = [one for one in pack_of(client).found if one.kind == "stall"]

    assert (stall.opened_on, stall.ended_on) == (date(2026, 2, 2), date(2026, 2, 16))
    assert stall.sentence.startswith("Squat, short three times running on this landing")
    assert stall.done == ("seen on Tue 10 Feb: rang her",)


def test_what_still_stands_is_asked_about(coach):
    pack = pack_of(ana_with(coach, ["20"] * 8, [MET] * 5 + [SHORT] * 3))

    assert pack.questions == ("Squat, short of what was asked since Mon 16 Feb: what is in the way?",)


def test_open_pain_is_asked_about_and_stands_in_no_sentence(coach):
    plan, logs = weekly_plan(*["20"] * 8), weekly_logs(*[MET] * 7)
    hurts = done("2026-02-23", MET, names="8 A", pain="6", pain_region="knee")

    pack = pack_of(load_ana(coach, plan, *logs, hurts))

    assert pack.questions[0].startswith("Pain, knee, open since Mon 23 Feb: how is it now")
    assert [one.kind for one in pack.found][0] == "pain"
    assert "knee" not in " ".join(texts(pack))


def test_quiet_that_was_over_is_told_in_the_words_of_its_last_day(coach):
    client = ana_with(coach, ["20"] * 8, [MET] * 4 + ["", "", "", MET])

    (turnout,) = [one for one in pack_of(client).found if one.kind == "turnout"]

    assert turnout.ended_on == date(2026, 2, 23)
    assert turnout.sentence.startswith("Quiet: no log for 27 days outside pauses; 3 sessions due since")


def test_a_call_that_the_coach_owes_is_nothing_found_about_the_client(coach):
    coach.studio.check_ins_from = date(2026, 1, 1)
    coach.studio.save()
    client = ana_with(coach, ["20"] * 16, [MET] * 16)

    as_at_its_end = export_rows("flags", coach.studio, as_of=FEBRUARY.last)

    assert "check_in_due" in {row["kind"] for row in as_at_its_end}
    assert "check_in_due" not in {one.kind for one in pack_of(client).found}


def test_contacts_and_promises_of_the_period(coach):
    client = ana_with(coach, ["20"] * 8, [MET] * 8)
    for days in (30, 31, 58, 59):
        Contact.objects.create(client=client, made_on=JANUARY.first + timedelta(days=days), how="call")
    films = {"text": "Films the last set.", "made_on": date(2026, 2, 3), "due_on": date(2026, 2, 20)}
    Promise.objects.create(client=client, **films)
    Promise.objects.create(client=client, text="Kept long ago", made_on=date(2026, 1, 3), kept=True)
    Promise.objects.create(client=client, text="Still open", made_on=date(2026, 1, 5), due_on=date(2026, 5, 1))

    pack = pack_of(client)

    assert [line.made_on for line in pack.contacts] == [date(2026, 2, 1), date(2026, 2, 28)]
    assert [line.text for line in pack.agreed] == ["Still open", "Films the last set."]
    assert pack.questions == ("Agreed on Tue 3 Feb, due Fri 20 Feb: “Films the last set”. How did it go?",)


def test_nobody_has_answered_yet(coach):
    pack = pack_of(ana_with(coach, ["20"] * 8, [MET] * 8))

    assert pack.answers == (
        Answer("What went well?", ""), Answer("What got in the way?", ""), Answer("What should change?", ""),
    )  # fmt: skip


def test_the_answers_are_those_of_the_first_call_after_the_period(coach):
    client = ana_with(coach, ["20"] * 8, [MET] * 8)
    for held_on, text in ((date(2026, 2, 20), "earlier"), (date(2026, 3, 5), "of it"), (date(2026, 4, 2), "later")):
        call = CheckIn.objects.create(client=client, held_on=held_on, due_on=held_on)
        CheckInAnswer.objects.create(check_in=call, question="well", text=text)

    assert pack_of(client).answers[0].text == "of it"


def test_before_any_call_the_answers_are_those_of_the_one_to_come_and_the_latest_stands(coach):
    client = ana_with(coach, ["20"] * 8, [MET] * 8)
    call = CheckIn.objects.create(client=client)
    for text in ("first", "second"):
        CheckInAnswer.objects.create(check_in=call, question="change", text=text)

    assert [answer.text for answer in pack_of(client).answers] == ["", "", "second"]


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
