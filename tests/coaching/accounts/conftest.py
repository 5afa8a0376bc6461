from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client as Browser

from roster.people.models import Coach
from tests.coaching.factories import CoachFactory

PASSWORD = "a kettle of tea"


@pytest.fixture
def vera(db: None) -> Coach:
    vera = CoachFactory(email="vera@example.org")
    vera.set_password(PASSWORD)
    vera.save()
    return vera


@pytest.fixture
def browser_of() -> Callable[[Coach], Browser]:
    """A browser in which somebody is signed in."""

    def signed_in(coach: Coach) -> Browser:
        browser = Browser()
        browser.force_login(coach)
        return browser

    return signed_in
