from __future__ import annotations

from datetime import timedelta

import pytest
from time_machine import TimeMachineFixture

from coaching.monitoring.models import FlagEvent, Kind, Urgency
from roster.people.models import Client, Coach, Contact, Promise
from tests.coaching.desk.pages import BrowserOf, read_page, words
from tests.coaching.factories import WEDNESDAY, ClientFactory, ClientStateFactory, FlagFactory

pytestmark = pytest.mark.usefixtures("wednesday")


def test_a_row_tells_the_sentence_and_leads_to_the_story_and_to_the_client(
    coach: Coach, client_of_coach: Client, browser_of: BrowserOf
) -> None:
    FlagFactory(client=client_of_coach, kind=Kind.TURNOUT, urgency=Urgency.ACT, sentence="A week gone.")

    row = read_page(browser_of(coach), "/").select_one("#ring .row")

    assert row.select_one(".urgency").text == "act"
    assert row.select_one(".sentence").text == "A week gone."
    assert [link["href"] for link in row.select("h3 a, .acts a")][:3] == [
        f"/clients/{client_of_coach.public_id}/",
        "tel:+31205550101",
        "mailto:ilse@example.org",
    ]


def test_the_day_and_the_piles_with_their_numbers_stand_on_top(
    coach: Coach, client_of_coach: Client, browser_of: BrowserOf
) -> None:
    FlagFactory(client=client_of_coach, kind=Kind.TURNOUT)

    head = read_page(browser_of(coach), "/").select_one(".page-head")

    assert head.h1.text == "Wednesday 15 April"
    assert words(head.nav) == "Ring 1"


def test_evidence_unfolds_in_place_with_rows_rule_clearing_and_options(
    coach: Coach, client_of_coach: Client, browser_of: BrowserOf
) -> None:
    FlagFactory(
        client=client_of_coach,
        evidence={"columns": ["Day", "Done"], "rows": [["Mon 13 Apr", "9-9-8-6"]]},
        options=["Go again from 4 x 6."],
    )

    evidence = read_page(browser_of(coach), "/").select_one("details.evidence")

    assert [cell.text for cell in evidence.select("th, td")] == ["Day", "Done", "Mon 13 Apr", "9-9-8-6"]
    assert "Rule The last two exposures on this landing short." in words(evidence)
    assert "Clears The next exposure that is met." in words(evidence)
    assert "Go again from 4 x 6." in words(evidence)


def test_other_findings_of_a_client_fold_under_the_worst(
    coach: Coach, client_of_coach: Client, browser_of: BrowserOf
) -> None:
    FlagFactory(client=client_of_coach, kind=Kind.TURNOUT, urgency=Urgency.ACT, sentence="A week gone.")
    ready = {"kind": Kind.READY, "urgency": Urgency.GOOD, "sentence": "Ready for 16 kg.", "remark": "Has it at home."}
    FlagFactory(client=client_of_coach, **ready)

    soup = read_page(browser_of(coach), "/")

    assert len(soup.select(".row")) == 1
    assert "also: ready" in words(soup.select_one(".second"))
    assert "good Ready for 16 kg. Has it at home." in words(soup.select_one("details.evidence"))


def test_pain_comes_with_its_cautions(coach: Coach, client_of_coach: Client, browser_of: BrowserOf) -> None:
    FlagFactory(client=client_of_coach, kind=Kind.PAIN, urgency=Urgency.NOW, subject="knee")

    cautions = words(read_page(browser_of(coach), "/").select_one(".cautions"))

    assert "Nobody watches this live. Don't wait for your coach." in cautions
    assert "your local emergency number" in cautions
    assert "fainting or dizziness" in cautions


def test_what_is_not_pain_has_no_cautions(coach: Coach, client_of_coach: Client, browser_of: BrowserOf) -> None:
    FlagFactory(client=client_of_coach, kind=Kind.STALL)

    assert read_page(browser_of(coach), "/").select_one(".cautions") is None


def test_several_clients_whose_plan_runs_out_are_one_row_that_unfolds_to_each(
    coach: Coach, client_of_coach: Client, browser_of: BrowserOf
) -> None:
    other = ClientFactory(lead=coach, name="Bo Lindqvist")
    ClientStateFactory(client=other)
    for client in (client_of_coach, other):
        FlagFactory(client=client, kind=Kind.PLAN_RUNS_OUT, urgency=Urgency.ACT)

    (row,) = read_page(browser_of(coach), "/").select("#plan .row")

    assert row.h3.text == "2 clients"
    assert "Bo Lindqvist, Ilse Brandt" in words(row.select_one(".second"))
    assert [link["href"] for link in row.select("details h3 a")] == [
        f"/clients/{client.public_id}/" for client in (other, client_of_coach)
    ]
    assert len(row.select("form.decide")) == 2


def test_a_row_can_be_seen_with_one_press(coach: Coach, client_of_coach: Client, browser_of: BrowserOf) -> None:
    flag = FlagFactory(client=client_of_coach, kind=Kind.STALL, subject="Row")
    browser = browser_of(coach)
    row = read_page(browser, "/").select_one(".row")
    form = row.select_one(f"#{row.select_one('.acts button')['form']}")

    fields = {field["name"]: field.get("value", "") for field in form.select("input")}
    answer = browser.post(form["action"], {**fields, "how": ""}, follow=True)

    flag.refresh_from_db()
    assert flag.seen_on == WEDNESDAY
    assert "1 seen, still so" in answer.content.decode()


def test_the_last_word_is_told_as_the_coachs_own_or_a_colleagues(
    coach: Coach, owner: Coach, client_of_coach: Client, browser_of: BrowserOf
) -> None:
    FlagFactory(client=client_of_coach)
    made_on = WEDNESDAY - timedelta(days=12)
    Contact.objects.create(client=client_of_coach, made_by=coach, how="call", made_on=made_on)

    mine = read_page(browser_of(coach), "/").select_one(".second")
    theirs = read_page(browser_of(owner), "/?whose=all").select_one(".second")

    assert "last word from you 12 days ago" in words(mine)
    assert "last word from a colleague 12 days ago" in words(theirs)


def test_a_promise_stands_until_somebody_says_what_became_of_it(
    coach: Coach, client_of_coach: Client, browser_of: BrowserOf
) -> None:
    FlagFactory(client=client_of_coach)
    promise = Promise.objects.create(client=client_of_coach, text="a clip by Friday", made_on=WEDNESDAY)
    before = words(read_page(browser_of(coach), "/"))

    promise.kept = True
    promise.save()

    assert "promised: “a clip by Friday”" in before
    assert "promised" not in words(read_page(browser_of(coach), "/"))


def test_nobody_needs_the_coach(coach: Coach, client_of_coach: Client, browser_of: BrowserOf) -> None:
    assert "Nobody needs you this morning." in words(read_page(browser_of(coach), "/"))


def test_an_empty_studio_is_told_how_to_load_its_files(coach: Coach, browser_of: BrowserOf) -> None:
    text = words(read_page(browser_of(coach), "/"))

    assert "No clients yet." in text
    assert "python manage.py load_clients clients.csv" in text


def test_an_owner_sees_their_own_clients_first_and_the_whole_studio_on_demand(
    owner: Coach, client_of_coach: Client, browser_of: BrowserOf
) -> None:
    FlagFactory(client=client_of_coach)
    browser = browser_of(owner)

    assert "Ilse Brandt" not in words(read_page(browser, "/"))
    assert "Ilse Brandt" in words(read_page(browser, "/?whose=all"))
    assert read_page(browser, "/").select_one(".empty a")["href"] == "?whose=all"


def test_paused_and_ended_clients_are_not_on_the_list(coach: Coach, browser_of: BrowserOf) -> None:
    for state, ended_on in (("paused", None), ("ended", WEDNESDAY)):
        client = ClientFactory(lead=coach, state=state, ended_on=ended_on)
        ClientStateFactory(client=client)
        FlagFactory(client=client)

    assert read_page(browser_of(coach), "/").select(".row") == []


def test_what_a_client_typed_is_shown_as_text(coach: Coach, client_of_coach: Client, browser_of: BrowserOf) -> None:
    typed = "<script>alert(1)</script>"
    FlagFactory(client=client_of_coach, sentence=typed, evidence={"columns": [typed], "rows": [[typed]]})

    soup = read_page(browser_of(coach), "/")

    assert [script["src"] for script in soup.select("script")] == ["/static/muster/keys.js"]
    assert soup.select_one(".sentence").text == typed
    assert soup.select_one("td").text == typed


def test_what_happened_since_the_last_visit_is_marked_as_new(
    coach: Coach, client_of_coach: Client, browser_of: BrowserOf, time_machine: TimeMachineFixture
) -> None:
    FlagFactory(client=client_of_coach, kind=Kind.TURNOUT)
    browser = browser_of(coach)
    first = read_page(browser, "/")

    time_machine.shift(timedelta(hours=5))
    FlagEvent.objects.create(
        client=client_of_coach, kind=Kind.TURNOUT, what=FlagEvent.What.OPENED, on=WEDNESDAY, urgency=Urgency.ACT
    )
    time_machine.shift(timedelta(hours=4))
    second = read_page(browser, "/")

    assert first.select(".new") == []
    assert second.select_one(".sentence .new").text == "new"


def test_looking_back_is_said_and_nothing_can_be_changed_from_there(
    coach: Coach, client_of_coach: Client, browser_of: BrowserOf
) -> None:
    soup = read_page(browser_of(coach), "/?as_of=2026-04-01")

    assert "this is how things stood on Wednesday 1 April 2026" in words(soup.select_one(".told"))
    assert soup.select(".decide") == []
    assert soup.select_one(".bar nav a")["href"] == "/?as_of=2026-04-01"
