"""The Client story: who this is, what is up, and what stands beside it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta

import pytest
from django.test import Client as Browser

from coaching.monitoring.models import Kind, Urgency
from roster.people.models import Client, Coach, Contact, KitItem, Limitation, Note, Pause, Promise
from tests.coaching.desk.pages import words
from tests.coaching.desk.stories import ReadStory
from tests.coaching.factories import MONDAY, ClientFactory, FlagFactory

BrowserOf = Callable[[Coach], Browser]
LAST_WEEK = MONDAY - timedelta(weeks=1)
pytestmark = pytest.mark.usefixtures("wednesday")


def test_the_head_tells_goal_promise_next_call_and_turnout(client_of_coach: Client, read_story: ReadStory) -> None:
    client = client_of_coach
    client.goal, client.goal_by, client.goal_noticed_by = "Carry my daughter upstairs", date(2026, 6, 20), "No puffing"
    client.next_call_on = date(2026, 4, 27)
    client.save()
    Promise.objects.create(client=client, text="a clip by Friday", made_on=LAST_WEEK, due_on=date(2026, 4, 17))
    Promise.objects.create(client=client, text="an older one, kept", made_on=LAST_WEEK, kept=True)
    state = client.state_of_facts
    state.last_log_on, state.attended_4_weeks, state.due_4_weeks = date(2026, 4, 14), 9, 11
    state.attended_12_weeks, state.due_12_weeks = 30, 34
    state.save()

    goal = words(read_story().select_one(".story-goal"))

    assert goal.startswith("Carry my daughter upstairs , by 20 June 2026 We will notice by: No puffing")
    assert "Promised a clip by Friday 6 Apr, by 17 Apr" in goal
    assert "Next call Monday 27 April" in goal
    assert "Last heard yesterday" in goal
    assert "Turnout 9 of 11 in 4 weeks, 30 of 34 in 12" in goal


def test_what_is_not_known_yet_is_said_in_words(read_story: ReadStory) -> None:
    story = read_story()

    assert words(story.select_one(".story-goal")) == (
        "No goal in their own words yet. Promised nothing open Next call none set Last heard no log yet "
        "Turnout nothing due in 12 weeks"
    )
    assert "no kit kept yet" in story.select_one(".about").text


def test_a_pause_and_an_end_stand_beside_the_name(client_of_coach: Client, read_story: ReadStory) -> None:
    Pause.objects.create(client=client_of_coach, from_on=MONDAY, until_on=date(2026, 4, 19), reason="ill")
    gone = ClientFactory(
        lead=client_of_coach.lead, state=Client.State.ENDED, ended_on=date(2026, 4, 1), ended_reason="moved away"
    )

    paused, ended = (words(read_story(client=one).select_one(".story-head .state")) for one in (client_of_coach, gone))

    assert paused == "on a pause until 19 April (ill)"
    assert ended == "ended on 1 April 2026: moved away"


def test_findings_tell_sentence_evidence_and_offer_acts(client_of_coach: Client, read_story: ReadStory) -> None:
    FlagFactory(
        client=client_of_coach,
        kind=Kind.PAIN,
        subject="knee",
        urgency=Urgency.NOW,
        sentence="Pain 7 of 10 in the knee.",
        evidence={"columns": ["Day", "Pain"], "rows": [["Mon 13 Apr", "7 of 10"]]},
    )
    FlagFactory(client=client_of_coach, sentence="Row short twice.", subject="Row", put_aside_until=date(2026, 4, 20))

    findings = read_story().select_one(".story-findings")

    assert findings.select_one(".row .urgency").text == "now"
    assert findings.select_one(".sentence").text == "Pain 7 of 10 in the knee."
    assert "7 of 10" in findings.select_one(".evidence table").text
    assert f"/clients/{client_of_coach.public_id}/findings/pain/seen/" in str(findings.form)
    assert "Don't wait for your coach" in findings.text
    assert "Put aside: Row short twice. until 20 Apr" in words(findings)


def test_the_side_tells_kit_by_place_what_to_spare_and_how_to_reach_them(
    client_of_coach: Client, read_story: ReadStory
) -> None:
    client = client_of_coach
    KitItem.objects.create(client=client, place="gym", implement="barbell", loads_entered="20-100/5", unit="kg")
    KitItem.objects.create(
        client=client, place="home", implement="kettlebell", loads_entered="8, 12, 16", is_pair=False
    )
    Limitation.objects.create(client=client, what="left shoulder", degree="spare", from_on=LAST_WEEK, note="no press")
    Limitation.objects.create(client=client, what="healed", from_on=LAST_WEEK, until_on=MONDAY)

    about = read_story().select_one(".about")

    assert words(about).startswith(
        "Owns, at home kettlebell 8, 12, 16 kg Owns, at the gym barbell 20–100 by 5 kg pair "
        "Spare left shoulder: no press Sends each session"
    )
    assert [link["href"] for link in about.select("a")] == ["tel:+31205550101", "mailto:ilse@example.org"]
    assert "healed" not in about.text


def test_notes_and_contacts_are_told_newest_first_and_older_ones_fold(
    client_of_coach: Client, coach: Coach, read_story: ReadStory
) -> None:
    for number in range(6):
        Note.objects.create(client=client_of_coach, written_by=coach, text=f"note {number}")
    Contact.objects.create(client=client_of_coach, made_by=coach, how="call", made_on=MONDAY, outcome="Sleeps better.")

    aside = read_story().aside

    assert [said.p.text for said in aside.select("section:has(#notes) > .said")] == [
        "note 5",
        "note 4",
        "note 3",
        "note 2",
    ]
    assert aside.select_one("details.folded summary").text == "2 older"
    assert words(aside.select_one("section:has(#contacts) .said")) == "Sleeps better. call, 13 Apr 2026, Vera Roth"


def test_a_note_is_kept_and_leads_back_to_the_story(
    client_of_coach: Client, coach: Coach, read_story: ReadStory, browser_of: BrowserOf
) -> None:
    form = read_story().select_one("form.word")
    fields = {field["name"]: field.get("value", "") for field in form.select("input[name]")}

    answer = browser_of(coach).post(form["action"], {**fields, "text": "Prefers mornings."})

    assert answer.headers["Location"] == f"/clients/{client_of_coach.public_id}/"
    assert Note.objects.get().text == "Prefers mornings."


def test_a_contact_is_kept_with_its_day(
    client_of_coach: Client, coach: Coach, read_story: ReadStory, browser_of: BrowserOf
) -> None:
    form = read_story().select("form.word")[1]

    browser_of(coach).post(form["action"], {"how": "met", "made_on": "2026-04-14", "text": "At the gym."})

    contact = Contact.objects.get()
    assert (contact.how, contact.made_on, contact.outcome) == ("met", date(2026, 4, 14), "At the gym.")


def test_an_earlier_day_tells_what_was_known_then_and_offers_no_changes(
    client_of_coach: Client, coach: Coach, read_story: ReadStory
) -> None:
    Note.objects.create(client=client_of_coach, written_by=coach, text="written on Wednesday")
    Contact.objects.create(client=client_of_coach, made_by=coach, how="call", made_on=MONDAY, outcome="on Monday")

    story = read_story("?as_of=2026-04-12")

    assert "written on Wednesday" not in story.text
    assert "on Monday" not in story.aside.text
    assert not story.select("main form[method=post]")


def test_a_note_of_the_evening_belongs_to_the_clients_own_day(
    client_of_coach: Client, coach: Coach, read_story: ReadStory
) -> None:
    note = Note.objects.create(client=client_of_coach, written_by=coach, text="late on Tuesday")
    Note.objects.filter(pk=note.pk).update(written_at=datetime(2026, 4, 14, 22, 30, tzinfo=UTC))

    assert "late on Tuesday" in read_story("?as_of=2026-04-14").text
