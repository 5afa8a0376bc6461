"""The door as somebody meets it: typed into, by people and by nobody."""

from __future__ import annotations

from playwright.sync_api import expect

from coaching.demo.cast import OWNER
from tests.browser.visiting import Visitor


def test_who_signs_in_by_keyboard_is_led_to_where_they_were_going(visitor: Visitor) -> None:
    page = visitor.open("/turnout/", who=None)

    expect(page.get_by_label("E-mail address")).to_be_focused()
    page.keyboard.type(OWNER.email)
    page.keyboard.press("Tab")
    page.keyboard.type(OWNER.password)
    page.keyboard.press("Enter")

    expect(page.get_by_role("heading", name="Turnout")).to_be_visible()


def test_who_signs_out_sees_nothing_more_not_even_with_the_back_button(fresh_visitor: Visitor) -> None:
    page = fresh_visitor.open("/clients/{stalled}/")
    name = page.get_by_role("heading", level=1).inner_text()

    page.locator("summary", has_text="VR").click()
    page.get_by_role("button", name="Sign out").click()
    expect(page.get_by_label("E-mail address")).to_be_visible()
    page.go_back()

    expect(page.get_by_label("E-mail address")).to_be_visible()
    assert name not in page.content()


def test_a_wrong_password_is_told_in_words_and_the_address_stays(visitor: Visitor) -> None:
    page = visitor.open("/sign-in/", who=None)

    page.get_by_label("E-mail address").fill(OWNER.email)
    page.get_by_label("Password").fill("not the one")
    page.get_by_role("button", name="Sign in", exact=True).click()

    expect(page.get_by_role("alert").first).to_contain_text("do not belong together")
    expect(page.get_by_label("E-mail address")).to_have_value(OWNER.email)
