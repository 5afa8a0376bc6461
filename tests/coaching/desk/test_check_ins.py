"""Check-in calls at the desk: whose is due, what was answered, and what is done about one."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

import pytest
from django.http import HttpResponse
from django.test import Client as Browser
from django.urls import reverse

from coaching.check_ins.calls import stamp_of
from coaching.check_ins.models import PackVersion
from coaching.monitoring.models import ClientState, Flag
from coaching.monitoring.refresh import refresh_clients
from roster.people.models import CheckIn, CheckInAnswer, Client, Coach, Contact, Promise, Studio, ViewRecord
from tests.coaching.desk.pages import page_of, read_page, words
from tests.coaching.factories import WEDNESDAY, ClientFactory, ClientStateFactory

BrowserOf = Callable[[Coach], Browser]
pytestmark = pytest.mark.usefixtures("wednesday")
NEXT_MONTH = WEDNESDAY + timedelta(days=30)


@pytest.fixture
def browser(coach: Coach, browser_of: BrowserOf) -> Browser:
    return browser_of(coach)


@pytest.fixture
def client(client_of_coach: Client, coach: Coach) -> Client:
    """Whose call is due today."""
    Studio.objects.filter(pk=coach.studio_id).update(check_ins_from=WEDNESDAY - timedelta(days=90))
    Client.objects.filter(pk=client_of_coach.pk).update(
        joined_on=WEDNESDAY - timedelta(days=200), next_call_on=WEDNESDAY
    )
    client_of_coach.refresh_from_db()
    refresh_clients([client_of_coach.pk], now())
    return client_of_coach


def now():
    from django.utils import timezone

    return timezone.now()


def send(browser: Browser, what: str, client: Client, **form: object) -> HttpResponse:
    return browser.post(reverse(what, args=[client.public_id]), form, follow=True)


def due_on(name: str, days: int, coach: Coach) -> Client:
    client = ClientFactory(lead=coach, name=name)
    ClientStateFactory(client=client, check_in_due_on=WEDNESDAY + timedelta(days=days))
    return client


def test_the_list_tells_who_is_overdue_due_this_week_and_to_come(client: Client, coach: Coach, browser: Browser):
    due_on("Late Lund", -9, coach)
    due_on("Sunday Sato", 4, coach)
    due_on("Monday Moor", 5, coach)
    nobody = ClientFactory(lead=coach, name="None Nyman")
    ClientStateFactory(client=nobody)

    page = read_page(browser, "/check-ins/")

    assert [words(group.find("h2")) for group in page.select("section.calls")] == ["Overdue", "This week", "To come"]
    assert words(page.select_one("#overdue tbody")) == "Late Lund Mon 6 Apr 9 days ago none yet – not kept yet"
    names = [words(name) for name in page.select("#this-week tbody th")]
    assert names == ["Ilse Brandt", "Sunday Sato"]
    assert "Monday Moor" in words(page.select_one("#to-come"))
    assert "None Nyman" not in page.text


def test_the_list_tells_the_last_call_the_answers_and_whether_there_is_a_pack(
    client: Client, coach: Coach, browser: Browser
):
    CheckIn.objects.create(client=client, due_on=date(2026, 3, 18), held_on=date(2026, 3, 19), outcome="well")
    send(browser, "answers_note", client, well="stairs", change="")
    kept = PackVersion.objects.create(
        client=client, first=date(2026, 3, 1), last=date(2026, 3, 31), title="March 2026", number=1, made_at=now(),
        content={}, edits={},
    )  # fmt: skip

    def row() -> str:
        return words(read_page(browser, "/check-ins/").select_one("#this-week tbody"))

    assert row() == "Ilse Brandt Wed 15 Apr Thu 19 Mar 1 of 3 ready"

    PackVersion.objects.filter(pk=kept.pk).update(given_on=date(2026, 4, 2), given_how="sent")
    assert row().endswith("given on 2 Apr")


def test_a_studio_without_check_ins_says_how_to_begin(client_of_coach: Client, browser: Browser):
    assert "This studio has no check-in calls yet." in read_page(browser, "/check-ins/").text


def test_answers_are_added_and_the_latest_of_a_question_stands(client: Client, coach: Coach, browser: Browser):
    send(browser, "answers_note", client, well="the stairs", in_the_way="a cold", change="")
    told = send(browser, "answers_note", client, well="the stairs", in_the_way="a long cold", change="")

    noted = CheckInAnswer.objects.values_list("question", "text", "noted_by")
    assert list(noted) == [
        ("well", "the stairs", coach.pk), ("in_the_way", "a cold", coach.pk), ("in_the_way", "a long cold", coach.pk)
    ]  # fmt: skip
    assert [field.get_text().strip() for field in page_of(told).select("textarea")][:2] == ["the stairs", "a long cold"]


def test_holding_a_call_keeps_all_of_it_and_ends_the_finding(client: Client, coach: Coach, browser: Browser):
    assert Flag.objects.standing().filter(kind="check_in_due").exists()
    send(browser, "answers_note", client, well="stairs")

    told = send(
        browser, "call_hold", client, on="2026-04-15", outcome="Goes on.", promise="a clip", promise_by="2026-04-20",
        next_on=NEXT_MONTH,
    )  # fmt: skip

    call, promise = CheckIn.objects.get(), Promise.objects.get()
    assert (call.due_on, call.held_on, call.held_by, call.outcome) == (WEDNESDAY, WEDNESDAY, coach, "Goes on.")
    assert (call.next_on, call.promise, promise.text, promise.due_on) == (
        NEXT_MONTH, promise, "a clip", date(2026, 4, 20)
    )  # fmt: skip
    assert (Contact.objects.get().how, Contact.objects.get().outcome) == ("call", "Goes on.")
    assert not Flag.objects.standing().filter(kind="check_in_due").exists()
    assert ClientState.objects.get().check_in_due_on == NEXT_MONTH
    assert "Call kept: Ilse Brandt." in told.content.decode()
    assert "stairs" in words(page_of(told).select_one(".held-call"))


def test_without_a_next_day_the_rhythm_decides(client: Client, browser: Browser):
    send(browser, "call_hold", client, on="2026-04-15", outcome="Goes on.")

    client.refresh_from_db()
    due = ClientState.objects.get().check_in_due_on
    assert client.next_call_on is None
    assert (due - client.joined_on).days % 28 == 0
    assert 14 <= (due - WEDNESDAY).days < 42


def test_a_call_is_moved_and_back_to_the_rhythm(client: Client, browser: Browser):
    send(browser, "call_move", client, to=NEXT_MONTH)
    assert ClientState.objects.get().check_in_due_on == NEXT_MONTH
    assert not Flag.objects.standing().exists()

    send(browser, "call_move", client, to="")
    client.refresh_from_db()
    assert client.next_call_on is None


@pytest.mark.parametrize(
    ("what", "form", "said"),
    [
        ("call_hold", {"on": "2026-04-16", "outcome": "x"}, "That day has not come yet."),
        ("call_hold", {"on": "2025-01-01", "outcome": "x"}, "That was before they joined."),
        ("call_hold", {"on": "2026-04-15", "outcome": ""}, "Write what came of it."),
        ("call_hold", {"on": "", "outcome": "x"}, "Say on which day."),
        ("call_hold", {"on": "2026-04-15", "outcome": "x", "next_on": "2026-04-15"}, "a day that is still to come"),
        ("call_hold", {"on": "2026-04-15", "outcome": "x", "next_on": "2028-04-15"}, "within a year"),
        ("call_hold", {"on": "2026-04-15", "outcome": "x", "promise_by": "2026-04-20"}, "Write what was promised."),
        ("call_hold", {"on": "2026-04-15", "outcome": "x", "promise": "y", "promise_by": "2026-04-01"}, "before the"),
        ("call_move", {"to": "2026-04-14"}, "a day that is still to come"),
        ("answers_note", {"well": "x" * 2001}, "at most 2000 characters"),
    ],
)
def test_what_can_t_be_kept_is_said_beside_what_was_typed_and_nothing_changes(
    client: Client, browser: Browser, what: str, form: dict, said: str
):
    answer = send(browser, what, client, **form)

    assert answer.status_code == 422
    assert said in words(page_of(answer).select_one(".faults"))
    assert not CheckIn.objects.held().exists()
    assert not Promise.objects.exists()
    assert not Contact.objects.exists()


def test_two_calls_of_one_day_are_refused(client: Client, browser: Browser):
    send(browser, "call_hold", client, on="2026-04-15", outcome="Goes on.")

    again = send(browser, "call_hold", client, on="2026-04-15", outcome="Once more.")

    assert again.status_code == 422
    assert "The last call was held on 2026-04-15" in again.content.decode()
    assert CheckIn.objects.count() == 1


@pytest.mark.parametrize("what", ["answers_note", "call_hold", "call_move"])
def test_what_a_colleague_has_changed_meanwhile_is_shown_and_not_overwritten(
    client: Client, owner: Coach, browser: Browser, browser_of: BrowserOf, what: str
):
    stood = stamp_of(client)
    send(browser_of(owner), "answers_note", client, well="from the owner")

    answer = send(browser, what, client, stood=stood, well="mine", on="2026-04-15", outcome="mine", to=NEXT_MONTH)

    assert answer.status_code == 422
    assert "It has changed since you looked." in answer.content.decode()
    assert CheckInAnswer.objects.get().text == "from the owner"
    assert not CheckIn.objects.held().exists()


def test_days_stand_in_their_fields_as_a_browser_takes_them(client: Client, browser: Browser):
    page = read_page(browser, reverse("client_calls", args=[client.public_id]))

    days = [page.select_one(f"input[name={name}]").get("value") for name in ("on", "to")]
    assert days == ["2026-04-15", "2026-04-15"]


def test_an_assistant_reads_and_changes_nothing(client: Client, assistant: Coach, browser_of: BrowserOf):
    helper = browser_of(assistant)

    page = read_page(helper, reverse("client_calls", args=[client.public_id]))

    assert not page.select("main form[method=post]")
    assert send(helper, "call_move", client, to=NEXT_MONTH).status_code == 404
    assert ViewRecord.objects.get().page == "check-in"


def test_the_page_of_an_earlier_day_tells_what_was_known_then(client: Client, browser: Browser):
    CheckIn.objects.create(client=client, due_on=date(2026, 4, 1), held_on=date(2026, 4, 2), outcome="spoke long")
    address = reverse("client_calls", args=[client.public_id])

    before, after = (read_page(browser, f"{address}?as_of=2026-04-0{day}") for day in (1, 2))

    assert "Due on Wednesday 1 April 2026 . No call yet." in words(before.select_one(".call-due"))
    assert "spoke long" not in before.text
    assert "spoke long" in after.text
    assert not before.select("main form[method=post]")


def test_from_the_morning_list_the_pack_is_one_click_away_and_the_call_two(client: Client, browser: Browser):
    morning = read_page(browser, "/")

    row = morning.select_one("#answer .row")
    assert words(row.select_one(".sentence")).startswith("Check-in call due today: Wed 15 Apr.")
    assert row.find("a", string="Pack")["href"] == reverse("client_pack", args=[client.public_id])
    call = row.find("a", string="Note answers, hold or move the call")
    assert words(read_page(browser, call["href"]).find("h1")) == "Ilse Brandt"


def test_the_story_tells_the_next_call_and_the_last(client: Client, read_story):
    CheckIn.objects.create(client=client, due_on=date(2026, 3, 18), held_on=date(2026, 3, 19))

    assert "Next call Wednesday 15 April last 19 Mar" in words(read_story().select_one(".story-goal"))
