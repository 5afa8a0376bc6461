"""What stands on the coach's paper: findings, what was done, contacts, answers, questions."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from coaching.check_ins.content import Answer
from coaching.monitoring.export import export_rows
from coaching.monitoring.models import Flag, FlagEvent, Urgency
from roster.people.models import CheckIn, CheckInAnswer, Contact, Promise
from tests.coaching.check_ins.of_ana import FEBRUARY, JANUARY, MET, ana_with, pack_of, texts
from tests.coaching.monitoring.files import SHORT, done, load_ana, weekly_logs, weekly_plan

pytestmark = pytest.mark.django_db


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


def test_what_a_coach_has_closed_is_told_and_not_asked_about(coach):
    client = ana_with(coach, ["20"] * 8, [MET] * 5 + [SHORT] * 3)
    about = {"client": client, "kind": "stall", "subject": "Squat", "by": coach, "on": date(2026, 2, 24)}
    FlagEvent.objects.create(**about, what=FlagEvent.What.CLOSED, urgency=Urgency.ACT, note="new shoes")

    pack = pack_of(client)

    assert pack.questions == ()
    assert [one.done for one in pack.found if one.kind == "stall"] == [("closed on Tue 24 Feb: new shoes",)]


def test_what_became_worse_since_it_was_closed_is_asked_about_again(coach):
    client = ana_with(coach, ["20"] * 8, [MET] * 5 + [SHORT] * 3)
    about = {"client": client, "kind": "stall", "subject": "Squat", "by": coach, "on": date(2026, 2, 17)}
    FlagEvent.objects.create(**about, what=FlagEvent.What.CLOSED, urgency=Urgency.WATCH, note="slept badly")

    assert len(pack_of(client).questions) == 1


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


def test_pain_that_came_after_the_period_is_asked_about_on_the_call(coach):
    client = ana_with(coach, ["20"] * 12, [MET] * 12)
    pain = {"client": client, "kind": "pain", "subject": "hip", "urgency": Urgency.NOW, "rule": "", "clears": ""}
    Flag.objects.create(**pain, opened_on=date(2026, 5, 28), sentence="Pain 7 of 10 in the hip.")
    over = {**pain, "subject": "knee", "opened_on": date(2026, 4, 2), "sentence": "Pain 4 of 10 in the knee."}
    Flag.objects.create(**over, holds=False)

    pack = pack_of(client)

    hip = "Pain, hip, open since Thu 28 May: how is it now, and has anybody looked at it?"
    assert [one for one in pack.questions if one.startswith("Pain")] == [hip]
    assert "pain" not in {one.kind for one in pack.found}


def test_what_a_coach_closed_after_the_period_is_not_asked_about(coach):
    client = ana_with(coach, ["20"] * 8, [MET] * 8)
    pain = {"client": client, "kind": "pain", "subject": "hip", "urgency": Urgency.NOW, "rule": "", "clears": ""}
    Flag.objects.create(**pain, opened_on=date(2026, 5, 28), sentence="Pain 7 of 10.", closed_on=date(2026, 5, 30))

    assert not [one for one in pack_of(client).questions if one.startswith("Pain")]
