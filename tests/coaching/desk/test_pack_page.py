from __future__ import annotations

import pytest
from bs4 import BeautifulSoup
from django.db import connection
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext

from coaching.check_ins.content import Change, Figure, FigureKey, Part
from coaching.check_ins.models import PackVersion
from roster.people.models import Client, Coach, ViewRecord
from tests.coaching.check_ins.packs import MARCH, a_pack, a_staircase
from tests.coaching.desk.packs import kept
from tests.coaching.desk.pages import BrowserOf, page_of, read_page, words
from tests.coaching.factories import CoachFactory

pytestmark = pytest.mark.usefixtures("wednesday")
OF_MARCH = "?month=2026-03"


def address(client: Client, more: str = OF_MARCH) -> str:
    return f"/clients/{client.public_id}/pack/{more}"


def test_the_last_month_that_is_over_is_shown_in_its_newest_version(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    kept(client_of_coach, coach)
    kept(client_of_coach, coach, sentences={0: "A quiet month."})

    page = read_page(browser_of(coach), address(client_of_coach, ""))

    assert words(page.h1) == "Ilse Brandt March 2026"
    assert words(page.select_one(".said")) == "A quiet month."
    assert "Version 2 , kept on 2 April 2026 by Vera Roth" in words(page.select_one(".which"))


def test_an_older_version_says_what_it_said_and_that_a_later_one_is_there(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    kept(client_of_coach, coach)
    kept(client_of_coach, coach, sentences={0: "A quiet month."})

    page = read_page(browser_of(coach), address(client_of_coach, OF_MARCH + "&version=1"))

    assert words(page.select_one(".said")) == "You came to 9 of 12 sessions , February had 11 of 12 ."
    assert "A later one is there: version 2" in words(page.select_one(".which"))


@pytest.mark.parametrize("version", ["3", "0", "-1", "1.0", "x", "٣", "9999999999"])
def test_a_version_that_is_not_there_is_not_here(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf, version: str
) -> None:
    kept(client_of_coach, coach)

    answer = browser_of(coach).get(address(client_of_coach), {"month": "2026-03", "version": version})

    assert answer.status_code == 404


def test_each_phrase_leads_to_its_figure_and_tells_it(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    kept(client_of_coach, coach)

    page = read_page(browser_of(coach), address(client_of_coach))

    turnout, before, squat = page.select(".said a")
    assert (turnout["href"], before["href"]) == ("#figure-turnout", "#figure-turnout")
    assert turnout["title"] == "Turnout: 9 of 12, before 11 of 12"
    assert "9 of 12" in words(page.select_one(str(turnout["href"])))
    assert squat["title"] == "8 × 18 kg on Tue 17 Mar"
    assert words(page.select_one(str(squat["href"]))) == "goblet squat 8 × 18 kg on Tue 17 Mar"


def test_a_phrase_of_a_hidden_table_leads_nowhere_but_tells_its_figure(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    kept(client_of_coach, coach, hidden=frozenset({Part.FIGURES}))

    page = read_page(browser_of(coach), address(client_of_coach))

    assert page.select_one(".figures") is None
    assert page.select(".said .traced")[0]["title"] == "Turnout: 9 of 12, before 11 of 12"
    assert all(page.select_one(str(link["href"])) for link in page.select(".said a"))


def test_a_figure_unfolds_how_it_was_made_and_unknown_is_a_dash(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    kept(client_of_coach, coach)

    page = read_page(browser_of(coach), address(client_of_coach))

    turnout, tonnage = page.select(".figures tbody tr")
    assert "Wilson's interval" in words(turnout.select_one("details.made"))
    assert words(turnout).endswith("9 of 12 11 of 12 too little to tell")
    assert tonnage.select_one("td span[title=unknown]") is not None


def test_mine_has_everything_and_theirs_only_what_is_safe_to_keep(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    kept(client_of_coach, coach)

    def parts(paper: str) -> list[str]:
        page = read_page(browser_of(coach), address(client_of_coach, f"{OF_MARCH}&paper={paper}"))
        return [str(section["class"][1]) for section in page.select("section.part")]

    assert parts("mine") == [f"part-{part.value}" for part in Part]
    assert parts("theirs") == ["part-sentences", "part-figures", "part-weeks", "part-staircases", "part-agreed"]


def test_theirs_holds_no_word_of_findings_contacts_answers_or_questions(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    kept(client_of_coach, coach, remarks={Part.FOUND: "Between us."})

    text = words(read_page(browser_of(coach), address(client_of_coach, f"{OF_MARCH}&paper=theirs")).main)

    for hidden in ("short twice", "rang her", "Slept badly", "What went well", "knee feel", "Between us"):
        assert hidden not in text


def test_the_papers_are_links_that_need_no_script(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    kept(client_of_coach, coach)

    page = read_page(browser_of(coach), address(client_of_coach))

    tabs = page.select(".papers a")
    assert [(words(tab), tab.get("aria-current")) for tab in tabs] == [("theirs", None), ("mine", "page")]
    assert all("month=2026-03" in str(tab["href"]) for tab in tabs)


def test_a_week_has_its_marks_and_a_staircase_is_drawn_with_its_numbers_behind(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    kept(client_of_coach, coach)

    page = read_page(browser_of(coach), address(client_of_coach))

    assert page.select_one(".weeks svg.marks")["aria-label"] == "1 done, 1 missed, 1 extra"
    assert "extra session, 4 sets" in page.select_one(".weeks svg.marks").decode()
    drawing = page.select_one("svg.staircase")
    assert drawing["aria-label"] == "goblet squat, kg asked and done: 1 of 2 met; now 18 kg"
    assert [len(drawing.select(f".{kind}")) for kind in ("met", "short", "heavier")] == [1, 1, 0]
    assert "8-7-6 × 18 kg" in words(page.select_one("figure table"))


def test_markup_in_names_and_words_is_shown_as_it_was_written(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    evil = "<img src=x onerror=alert(1)>"
    pack = a_pack(questions=(evil,), staircases=(a_staircase(),), traces={"best_set:goblet squat": evil})
    kept(client_of_coach, coach, pack, sentences={1: evil}, remarks={Part.WEEKS: evil})

    page = read_page(browser_of(coach), address(client_of_coach))

    assert page.select("main img") == []
    assert words(page.select(".said")[1]) == words(page.select_one(".coach-remark")) == evil


def test_a_pack_with_nothing_to_tell_says_why(client_of_coach: Client, coach: Coach, browser_of: BrowserOf) -> None:
    kept(client_of_coach, coach, a_pack(nothing="Joined on 12 April 2026, after this period."))

    page = read_page(browser_of(coach), address(client_of_coach))

    assert words(page.select_one(".empty")) == "Joined on 12 April 2026, after this period."
    assert page.select("section.part, .papers") == []


def test_a_kept_pack_costs_the_same_queries_however_many_versions_there_are(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    browser = browser_of(coach)
    kept(client_of_coach, coach)
    browser.get(address(client_of_coach))

    def count() -> int:
        with CaptureQueriesContext(connection) as queries:
            read_page(browser, address(client_of_coach))
        return len(queries)

    few = count()
    for _ in range(20):
        kept(client_of_coach, CoachFactory(studio=coach.studio))

    assert count() == few <= 10


def test_that_somebody_else_than_the_lead_looked_is_recorded(
    client_of_coach: Client, coach: Coach, owner: Coach, browser_of: BrowserOf
) -> None:
    kept(client_of_coach, coach)

    for who in (coach, owner):
        browser_of(who).get(address(client_of_coach))

    assert list(ViewRecord.objects.values_list("coach", "page")) == [(owner.pk, "check-in pack")]


def test_an_assistant_reads_and_is_offered_nothing_to_change(
    client_of_coach: Client, coach: Coach, assistant: Coach, browser_of: BrowserOf
) -> None:
    kept(client_of_coach, coach)

    page = read_page(browser_of(assistant), address(client_of_coach, f"{OF_MARCH}&edit=1"))

    assert page.select("main form[method=post]") == []
    assert "Edit" not in words(page.main)


def form_of(page: BeautifulSoup) -> dict[str, object]:
    """What a browser would send of the form to edit."""
    form = page.select_one("form.editing")
    sent: dict[str, object] = {str(one["name"]): str(one["value"]) for one in form.select("input[type=hidden]")}
    sent |= {str(one["name"]): one.get_text().removeprefix("\n") for one in form.select("textarea")}
    return sent | {"hidden": [str(one["value"]) for one in form.select("input[type=checkbox][checked]")]}


def open_form(browser: Browser, client: Client, version: str = "") -> dict[str, object]:
    return form_of(read_page(browser, address(client, f"{OF_MARCH}&edit=1&version={version}")))


def send(browser: Browser, client: Client, form: dict[str, object]) -> object:
    return browser.post(f"/clients/{client.public_id}/pack/edit/{OF_MARCH}", form)


def test_words_hidden_parts_and_remarks_become_a_new_version(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    kept(client_of_coach, coach)
    browser = browser_of(coach)
    form = open_form(browser, client_of_coach)

    send(browser, client_of_coach, form | {
        "sentence-0": "It was 9 of 12 sessions.", "hidden": ["weeks", "found"], "remark-figures": "Away\r\na week.",
    })  # fmt: skip

    second = PackVersion.objects.of(client_of_coach, MARCH.first, MARCH.last)[0]
    assert (second.number, second.made_by) == (2, coach)
    assert second.changes.sentences == {0: "It was 9 of 12 sessions."}
    assert second.changes.hidden == {Part.WEEKS, Part.FOUND}
    assert second.changes.remarks == {Part.FIGURES: "Away\na week."}
    assert PackVersion.objects.get(number=1).pack == a_pack()


def test_a_form_sent_as_it_came_adds_no_version(client_of_coach: Client, coach: Coach, browser_of: BrowserOf) -> None:
    kept(client_of_coach, coach, sentences={0: "Mine."}, remarks={Part.WEEKS: "One.\n\nTwo."}, hidden={Part.FOUND})
    browser = browser_of(coach)

    send(browser, client_of_coach, open_form(browser, client_of_coach))

    assert PackVersion.objects.count() == 1


def test_a_stale_page_is_answered_with_both_and_keeps_nothing(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    kept(client_of_coach, coach)
    browser = browser_of(coach)
    form = open_form(browser, client_of_coach)
    kept(client_of_coach, coach, sentences={0: "Hers."}, remarks={Part.WEEKS: "Her remark."})

    answer = send(browser, client_of_coach, form | {"sentence-0": "Mine.", "remark-weeks": "My remark."})

    page = page_of(answer)
    assert answer.status_code == 422
    assert PackVersion.objects.count() == 2
    assert page.select_one("#sentence-0").get_text().strip() == "Mine."
    assert [words(one) for one in page.select(".other")] == ["There now: Hers.", "There now: Her remark."]
    assert send(browser, client_of_coach, form_of(page)).status_code == 302
    assert PackVersion.objects.get(number=3).changes.sentences == {0: "Mine."}


@pytest.mark.parametrize(
    ("name", "text", "told"),
    [
        ("remark-weeks", "x" * 5_001, "5,000 characters"),
        ("sentence-0", "x" * 1_001, "1,000 characters"),
        ("remark-weeks", "a\0b", "no text has"),
    ],
)
def test_what_is_too_long_or_no_text_comes_back_as_it_was_typed(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf, name: str, text: str, told: str
) -> None:
    kept(client_of_coach, coach)
    browser = browser_of(coach)

    answer = send(browser, client_of_coach, open_form(browser, client_of_coach) | {name: text})

    page = page_of(answer)
    assert answer.status_code == 422
    assert told in words(page.select_one("[role=alert]"))
    assert len(page.select_one(f"#{name}").get_text().strip()) >= len(text) - 1
    assert PackVersion.objects.count() == 1


def give(browser: Browser, client: Client, **form: str) -> object:
    page = read_page(browser, address(client))
    hidden = {str(one["name"]): str(one["value"]) for one in page.select(".giving input[type=hidden]")}
    return browser.post(f"/clients/{client.public_id}/pack/given/{OF_MARCH}", hidden | form)


def test_a_version_is_marked_as_given_and_not_given_after_all(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    kept(client_of_coach, coach)
    browser = browser_of(coach)

    give(browser, client_of_coach, how="handed", to="her mother", on="2026-04-10")

    version = PackVersion.objects.get()
    assert (str(version.given_on), version.given_how, version.given_to) == ("2026-04-10", "handed", "her mother")
    assert version.given_by == coach
    page = read_page(browser, address(client_of_coach))
    assert "handed over on 10 April 2026 to her mother" in words(page.select_one(".versions"))
    give(browser, client_of_coach, how="not")
    assert PackVersion.objects.get().given_on is None


@pytest.mark.parametrize(
    ("form", "told"),
    [
        ({"how": "sent", "on": "2026-04-16"}, "That day has not come yet."),
        ({"how": "sent", "on": "2026-02-28"}, "That was before the days that the pack is about."),
        ({"how": "owl"}, "Select a valid choice"),
    ],
)
def test_what_can_not_be_is_not_marked(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf, form: dict[str, str], told: str
) -> None:
    kept(client_of_coach, coach)
    browser = browser_of(coach)

    give(browser, client_of_coach, **form)

    assert PackVersion.objects.get().given_on is None
    assert told in words(read_page(browser, address(client_of_coach)).select_one(".told"))


def test_marking_from_a_page_that_was_overtaken_marks_nothing(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    kept(client_of_coach, coach)
    browser = browser_of(coach)
    page = read_page(browser, address(client_of_coach))
    hidden = {str(one["name"]): str(one["value"]) for one in page.select(".giving input[type=hidden]")}
    kept(client_of_coach, coach, sentences={0: "Hers."})

    browser.post(f"/clients/{client_of_coach.public_id}/pack/given/{OF_MARCH}", hidden | {"how": "sent"})

    assert not PackVersion.objects.filter(given_on__isnull=False).exists()


def test_theirs_explains_e1rm_where_it_tells_one(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    best = Figure(FigureKey.BEST_SETS, "Best set: row", "kg", 24.0, None, "8 × 19 kg", "", Change.UNKNOWN, "", "")
    kept(client_of_coach, coach)
    kept(client_of_coach, coach, a_pack(figures=(*a_pack().figures, best)))
    browser = browser_of(coach)

    untold = read_page(browser, address(client_of_coach, OF_MARCH + "&version=1&paper=theirs"))
    told = read_page(browser, address(client_of_coach, OF_MARCH + "&version=2&paper=theirs"))

    assert not untold.select(".explained")
    assert words(told.select_one(".explained")).startswith("e1RM: the load that could be lifted once")
