from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

import pytest
from bs4 import BeautifulSoup
from django.http import HttpResponse
from django.test import Client as Browser
from django.urls import reverse

from coaching.monitoring.models import Flag, FlagEvent, Kind, Urgency
from roster.people.models import Client, Coach, Contact, Note
from tests.coaching.factories import WEDNESDAY, FlagFactory

BrowserOf = Callable[[Coach], Browser]
TOMORROW = WEDNESDAY + timedelta(days=1)
pytestmark = pytest.mark.usefixtures("wednesday")


@pytest.fixture
def browser(coach: Coach, browser_of: BrowserOf) -> Browser:
    return browser_of(coach)


def act(browser: Browser, name: str, flag: Flag, **form: object) -> HttpResponse:
    address = reverse(name, args=[flag.client.public_id, flag.kind])
    return browser.post(address, {"subject": flag.subject, "urgency": flag.urgency, **form}, follow=True)


@pytest.fixture
def stall(client_of_coach: Client) -> Flag:
    return FlagFactory(client=client_of_coach, kind=Kind.STALL, subject="Goblet squat")


@pytest.fixture
def pain(client_of_coach: Client) -> Flag:
    return FlagFactory(client=client_of_coach, kind=Kind.PAIN, subject="knee", urgency=Urgency.NOW)


def test_seen_keeps_the_day_the_coach_and_the_note(browser: Browser, coach: Coach, stall: Flag) -> None:
    answer = act(browser, "flag_seen", stall, text="tired week")

    stall.refresh_from_db()
    event = FlagEvent.objects.get()
    assert (stall.seen_on, event.what, event.by, event.note) == (WEDNESDAY, "seen", coach, "tired week")
    assert "Seen: Ilse Brandt, stall." in answer.content.decode()


def test_seen_with_a_contact_keeps_the_contact(browser: Browser, coach: Coach, stall: Flag) -> None:
    act(browser, "flag_seen", stall, how="call", text="slept badly")

    contact = Contact.objects.get()
    assert (contact.client, contact.made_by, contact.how) == (stall.client, coach, "call")
    assert (contact.made_on, contact.outcome) == (WEDNESDAY, "slept badly")


def test_an_act_on_a_sentence_about_several_exercises_reaches_each_of_them(browser: Browser, stall: Flag) -> None:
    other = FlagFactory(client=stall.client, kind=Kind.STALL, subject="Floor press")
    unnamed = FlagFactory(client=stall.client, kind=Kind.STALL, subject="Row")

    act(browser, "flag_seen", stall, subject=["Goblet squat", "Floor press"])

    seen = Flag.objects.filter(seen_on=WEDNESDAY).values_list("subject", flat=True)
    assert set(seen) == {stall.subject, other.subject}
    assert unnamed.subject not in seen


def test_put_aside_leaves_the_list_until_its_day(browser: Browser, stall: Flag) -> None:
    answer = act(browser, "flag_put_aside", stall, until="2026-04-20")

    stall.refresh_from_db()
    assert stall.put_aside_until.isoformat() == "2026-04-20"
    assert "1 put aside." in answer.content.decode()


@pytest.mark.parametrize("until", ["", "soon", "2026-04-15", "2026-04-14", "2027-05-01"])
def test_put_aside_without_a_day_that_makes_sense_changes_nothing(browser: Browser, stall: Flag, until: str) -> None:
    """ASVS 5.0 2.2.1, 2.2.2"""
    answer = act(browser, "flag_put_aside", stall, until=until, text="on holiday")

    stall.refresh_from_db()
    assert (answer.status_code, stall.put_aside_until) == (422, None)
    assert 'value="on holiday"' in answer.content.decode()


def test_closing_needs_a_reason(browser: Browser, stall: Flag) -> None:
    refused = act(browser, "flag_close", stall)
    done = act(browser, "flag_close", stall, text="new dumbbells ordered")

    stall.refresh_from_db()
    assert (refused.status_code, done.status_code) == (422, 200)
    assert "Say why it is closed." in refused.content.decode()
    assert (stall.closed_on, FlagEvent.objects.get().note) == (WEDNESDAY, "new dumbbells ordered")


def test_pain_is_put_aside_only_with_a_contact(browser: Browser, pain: Flag) -> None:
    refused = act(browser, "flag_put_aside", pain, until=TOMORROW)
    done = act(browser, "flag_put_aside", pain, until=TOMORROW, how="call", text="better since noon")

    pain.refresh_from_db()
    assert (refused.status_code, done.status_code) == (422, 200)
    assert (pain.put_aside_until, Contact.objects.count()) == (TOMORROW, 1)


def test_pain_is_put_aside_for_a_day_at_most_and_no_contact_is_kept_of_a_refused_act(
    browser: Browser, pain: Flag
) -> None:
    """ASVS 5.0 2.2.3"""
    answer = act(browser, "flag_put_aside", pain, until=TOMORROW + timedelta(days=1), how="call")

    assert answer.status_code == 422
    assert Contact.objects.count() == 0


def test_a_finding_that_became_worse_since_the_page_was_loaded_is_shown_anew(browser: Browser, stall: Flag) -> None:
    Flag.objects.update(urgency=Urgency.ACT)

    answer = act(browser, "flag_seen", stall)

    assert answer.status_code == 422
    assert "It has become worse since you looked." in answer.content.decode()
    assert Flag.objects.get().seen_on is None


def test_a_finding_that_has_cleared_meanwhile_is_said_to_be_over(browser: Browser, stall: Flag) -> None:
    Flag.objects.update(holds=False)

    answer = act(browser, "flag_close", stall, text="gone")

    assert "this is no longer so; nothing was changed" in answer.content.decode()
    assert FlagEvent.objects.count() == 0


def test_after_an_act_the_coach_is_back_where_it_was_done(browser: Browser, stall: Flag) -> None:
    ours = act(browser, "flag_seen", stall, next="/clients/?q=ilse")
    elsewhere = act(browser, "flag_seen", stall, next="https://elsewhere.example/")

    assert ours.redirect_chain[-1][0] == "/clients/?q=ilse"
    assert elsewhere.redirect_chain[-1][0] == "/"


def test_a_kind_that_is_none_is_not_found(browser: Browser, client_of_coach: Client) -> None:
    assert browser.post(f"/clients/{client_of_coach.public_id}/findings/mood/seen/").status_code == 404


def test_a_note_is_kept_with_who_wrote_it(browser: Browser, coach: Coach, client_of_coach: Client) -> None:
    browser.post(reverse("note_add", args=[client_of_coach.public_id]), {"text": "likes mornings"})

    note = Note.objects.get()
    assert (note.client, note.written_by, note.text) == (client_of_coach, coach, "likes mornings")


def test_a_note_with_a_way_of_contact_is_a_contact(browser: Browser, client_of_coach: Client) -> None:
    browser.post(reverse("note_add", args=[client_of_coach.public_id]), {"text": "will ring back", "how": "message"})

    assert (Contact.objects.get().outcome, Note.objects.count()) == ("will ring back", 0)


def test_an_empty_note_is_not_kept(browser: Browser, client_of_coach: Client) -> None:
    answer = browser.post(reverse("note_add", args=[client_of_coach.public_id]), {"text": "  "})

    assert (answer.status_code, Note.objects.count()) == (422, 0)


def test_a_contact_is_kept_on_the_day_it_was_made(browser: Browser, client_of_coach: Client) -> None:
    address = reverse("contact_add", args=[client_of_coach.public_id])

    browser.post(address, {"how": "met", "made_on": "2026-04-11"})
    browser.post(address, {"how": "call"})

    assert set(Contact.objects.values_list("how", "made_on")) == {
        ("met", WEDNESDAY - timedelta(days=4)),
        ("call", WEDNESDAY),
    }


@pytest.mark.parametrize("form", [{}, {"how": "smoke"}, {"how": "call", "made_on": "2026-04-16"}])
def test_a_contact_without_a_way_or_with_a_day_to_come_is_not_kept(
    browser: Browser, client_of_coach: Client, form: dict[str, str]
) -> None:
    answer = browser.post(reverse("contact_add", args=[client_of_coach.public_id]), form)

    assert (answer.status_code, Contact.objects.count()) == (422, 0)


def stood(browser: Browser) -> str:
    """What the Morning list says of how its one finding stood."""
    field = BeautifulSoup(browser.get("/").content, "html.parser").select_one("form.decide input[name=stood]")
    assert field is not None
    return str(field["value"])


@pytest.mark.parametrize("name", ["flag_seen", "flag_put_aside", "flag_close"])
def test_an_act_on_what_a_colleague_has_changed_shows_both_and_changes_nothing(
    browser: Browser, stall: Flag, name: str
) -> None:
    """ASVS 5.0 2.3.3, 15.4.2"""
    seen = stood(browser)
    act(browser, "flag_put_aside", stall, until="2026-04-20")

    answer = act(browser, name, stall, stood=seen, until="2026-04-17", text="away till Friday")

    page = answer.content.decode()
    stall.refresh_from_db()
    assert answer.status_code == 422
    assert (stall.put_aside_until.isoformat(), FlagEvent.objects.count()) == ("2026-04-20", 1)
    assert "Put aside until 20 Apr 2026." in page
    assert "away till Friday" in page


def test_an_act_on_what_stands_as_it_was_seen_is_done(browser: Browser, stall: Flag) -> None:
    act(browser, "flag_put_aside", stall, until="2026-04-17", stood=stood(browser))

    stall.refresh_from_db()
    assert stall.put_aside_until.isoformat() == "2026-04-17"


def test_what_was_shown_of_a_change_is_what_the_next_try_is_about(browser: Browser, stall: Flag) -> None:
    seen = stood(browser)
    act(browser, "flag_seen", stall)
    again = act(browser, "flag_put_aside", stall, until="2026-04-17", stood=seen).content
    field = BeautifulSoup(again, "html.parser").select_one("input[name=stood]")
    assert field is not None

    act(browser, "flag_put_aside", stall, until="2026-04-17", stood=field["value"])

    stall.refresh_from_db()
    assert stall.put_aside_until.isoformat() == "2026-04-17"
