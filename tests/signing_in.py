from __future__ import annotations

from django.test import Client as Browser

from roster.people.models import Coach


def browser_of(coach: Coach) -> Browser:
    """A browser in which somebody is signed in."""
    browser = Browser()
    browser.force_login(coach)
    return browser
