"""What a coach does every day, by mouse and by keyboard alone: who missed, who is stuck, what happened, what to say."""

from __future__ import annotations

import re

from playwright.sync_api import Locator, Page, expect

from tests.browser.visiting import PHONE, Visitor, arrive

# Of the studio as it stands on its Wednesday.
SILENT, STUCK, HURT, MISSED_SOME = "Cosima Ridder", "Dagny Kolbeck", "Linnea Solberry", "Elif Jarosz"
MOST_PRESSES = 60


def row_of(page: Page, name: str) -> Locator:
    return page.get_by_role("listitem").filter(has=page.get_by_role("heading", name=name)).first


def press_until(page: Page, key: str, target: Locator) -> None:
    """As somebody does who cannot point: again and again, until what they want has the focus."""
    for _ in range(MOST_PRESSES):
        if target.evaluate("(element) => element === document.activeElement"):
            return
        page.keyboard.press(key)
    raise AssertionError(f"{key} never leads to {target}")


def test_who_missed_sessions_by_mouse(visitor: Visitor) -> None:
    page = visitor.open("/?whose=all")

    page.get_by_text(re.compile(r"^Missed last week: \d+ (person|people)")).click()
    missed = page.get_by_role("listitem").filter(has_text=re.compile(r"\d of \d$"))
    expect(missed.filter(has_text=MISSED_SOME)).to_contain_text("1 of 2")

    page.get_by_role("link", name="Turnout").click()
    page.get_by_role("link", name=re.compile("Behind this week")).click()
    expect(page).to_have_url(re.compile("show=behind"))
    arrive(page, "Turnout")
    week = page.get_by_role("row").filter(has_text=SILENT).get_by_role("cell").nth(10)
    week.click()

    expect(page.get_by_role("status")).to_contain_text(f"{SILENT}, week of")
    expect(page.get_by_role("status")).to_contain_text("missed")


def test_who_missed_sessions_by_keyboard(visitor: Visitor) -> None:
    page = visitor.open("/?whose=all")

    press_until(page, "Tab", page.get_by_role("link", name="Turnout"))
    page.keyboard.press("Enter")
    arrive(page, "Turnout")
    name = page.get_by_role("row").filter(has_text=SILENT).get_by_role("link")
    press_until(page, "Tab", page.locator("tbody a").first)
    press_until(page, "ArrowDown", name)
    page.keyboard.press("ArrowRight")

    expect(page.get_by_role("status")).to_contain_text(f"{SILENT}, week of")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1, name=SILENT)).to_be_visible()


def test_who_is_stuck_on_a_load_and_why_by_mouse(fresh_visitor: Visitor) -> None:
    page = fresh_visitor.open("/?whose=all")
    row = row_of(page, STUCK)

    expect(row).to_contain_text("short three times running")
    row.get_by_text("evidence").click()
    expect(row.get_by_role("row").filter(has_text="fewer reps").first).to_be_visible()
    expect(row.get_by_text("Rule")).to_be_visible()
    row.get_by_role("link", name="Put aside").click()
    row.get_by_label("Note or reason").fill("Rang, we look at the technique first.")
    row.get_by_role("button", name="Put aside").click()

    expect(page.get_by_text(re.compile(f"Put aside: {STUCK}"))).to_be_visible()
    expect(page.locator("#look-at-the-plan").get_by_role("heading", name=STUCK)).to_have_count(0)


def test_who_is_stuck_on_a_load_and_why_by_keyboard(fresh_visitor: Visitor) -> None:
    page = fresh_visitor.open("/?whose=all")
    row = row_of(page, STUCK)

    press_until(page, "ArrowDown", row)
    page.keyboard.press("Enter")
    expect(row.get_by_role("row").filter(has_text="fewer reps").first).to_be_visible()
    press_until(page, "Tab", row.get_by_label("Note or reason"))
    page.keyboard.type("Seen in the film: the dip is too slow.")
    press_until(page, "Tab", row.locator("form").get_by_role("button", name="Seen"))
    page.keyboard.press("Enter")

    expect(page.get_by_text(re.compile(f"Seen: {STUCK}"))).to_be_visible()
    expect(page.get_by_text("1 seen, still so")).to_be_visible()


def test_what_happened_with_somebody_by_mouse(visitor: Visitor) -> None:
    page = visitor.open("/?whose=all")

    row_of(page, STUCK).get_by_role("link", name=STUCK).click()

    expect(page.get_by_role("heading", level=1, name=STUCK)).to_be_visible()
    stairs = page.get_by_role("figure").filter(has=page.get_by_role("heading", name="clean and press"))
    expect(stairs.locator("[data-drawn] svg").first).to_be_visible()
    stairs.locator("summary").click()
    expect(stairs.get_by_role("row").filter(has_text="fewer reps").first).to_be_visible()
    expect(page.get_by_role("heading", name="Log")).to_be_visible()


def test_what_happened_with_somebody_by_keyboard(visitor: Visitor) -> None:
    page = visitor.open("/")

    page.keyboard.press("/")
    page.keyboard.type(STUCK.split()[1].lower())
    page.keyboard.press("Enter")
    arrive(page, "Clients")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")

    arrive(page, STUCK)
    press_until(page, "ArrowDown", row_of_finding(page))
    page.keyboard.press("Enter")
    expect(page.get_by_role("row").filter(has_text="fewer reps").first).to_be_visible()


def row_of_finding(page: Page) -> Locator:
    return page.get_by_role("region", name="Findings").locator("[data-row]").first


def test_what_to_say_on_the_call_takes_two_clicks(visitor: Visitor) -> None:
    page = visitor.open("/?whose=all")

    page.get_by_role("listitem").filter(has_text="Check-in call due").get_by_role("link", name="Pack").first.click()
    expect(page.get_by_role("heading", name="In short")).to_be_visible()
    with page.expect_download() as papers:
        page.get_by_role("link", name="PDF, A4").click()

    assert papers.value.path().read_bytes().startswith(b"%PDF")


def test_on_a_phone_whoever_hurts_comes_first_and_can_be_rung(visitor: Visitor) -> None:
    page = visitor.open("/?whose=all", **PHONE)

    first = page.locator("[data-row]").first
    expect(first).to_contain_text(HURT)
    expect(first.get_by_role("link", name=re.compile("call", re.I))).to_have_attribute("href", re.compile(r"^tel:\+"))
    first.get_by_text("evidence").tap()

    expect(first.get_by_text("Nobody watches this live.")).to_be_visible()


def test_without_scripts_the_evidence_still_unfolds_and_an_act_is_still_kept(fresh_visitor: Visitor) -> None:
    page = fresh_visitor.open("/?whose=all", java_script_enabled=False)
    row = row_of(page, STUCK)

    row.locator("summary").first.click()
    expect(row.get_by_role("row").filter(has_text="fewer reps").first).to_be_visible()
    row.locator("form").get_by_role("button", name="Seen").click()

    expect(page.get_by_text(re.compile(f"Seen: {STUCK}"))).to_be_visible()
