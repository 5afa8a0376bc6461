"""How a page of the desk is read in tests."""

from __future__ import annotations

from collections.abc import Callable

from bs4 import BeautifulSoup
from bs4.element import Tag
from django.http import HttpResponse
from django.test import Client as Browser

from roster.people.models import Coach

BrowserOf = Callable[[Coach], Browser]


def read_page(browser: Browser, address: str) -> BeautifulSoup:
    answer = browser.get(address)
    assert answer.status_code == 200
    return page_of(answer)


def page_of(answer: HttpResponse) -> BeautifulSoup:
    return BeautifulSoup(answer.content, "html.parser")


def words(element: Tag | None) -> str:
    """What is written there, with single spaces."""
    assert element is not None
    return " ".join(element.get_text(" ").split())
