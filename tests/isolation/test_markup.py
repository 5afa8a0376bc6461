"""What people wrote is shown as they wrote it, and never as a part of the page.

ASVS 5.0 1.2.1, 1.3.1
"""

from __future__ import annotations

import re
from itertools import product

import pytest
from django.db.models import JSONField

from coaching.monitoring.models import ClientState
from roster.people.models import Client
from tests.isolation.filled import FilledClient
from tests.isolation.routes import Reach, desk_routes
from tests.isolation.test_desk import QUESTIONS, STORY_QUESTIONS, values_of
from tests.isolation.test_routes import free_texts, models
from tests.isolation.world import World
from tests.repository import ROOT

PAYLOADS = [
    "<script>w1()</script>",
    "\"'><img src=x onerror=w2()>",
    "</script><svg onload=w3()>",
    "' autofocus onfocus=w4() x='",
    "{{ 7|add:7 }}<b>{% now 'Y' %}",
]
WRITTEN_BY_THE_PAGE = re.compile(r"<script>w1|<img src=x|<svg onload|' onfocus=w4|\" onfocus=w4|<b>\{%|<b>2026|14<b>")
SHOWN = re.compile(r"w[1-4]\(\)|7\|add:7")


def write_everywhere(filled: FilledClient, payload: str) -> None:
    for model in models():
        row = filled.rows[model]
        texts = [field for field in free_texts(model) if not isinstance(field, JSONField) and not field.unique]
        for field in texts:
            field.model.objects.filter(pk=row.pk).update(**{field.name: payload[: field.max_length]})


@pytest.mark.parametrize("payload", PAYLOADS)
def test_markup_in_any_text_stays_text(world: World, payload: str) -> None:
    filled, browser = world.clients["north"], world.browser_of("owner")
    write_everywhere(filled, payload)
    assert Client.objects.get(pk=filled.client.pk).name == payload
    assert ClientState.objects.filter(client=filled.client).exists()
    roster = [route.address({}) + question for route, question in product(desk_routes(Reach.ROSTER), QUESTIONS)]
    stories = product(desk_routes(Reach.READ), STORY_QUESTIONS)
    story = [route.address(values_of(filled)) + question for route, question in stories]

    pages = {address: browser.get(address).content.decode() for address in [*roster, *story]}

    assert [address for address, page in pages.items() if WRITTEN_BY_THE_PAGE.search(page)] == []
    assert sum(bool(SHOWN.search(page)) for page in pages.values()) > 5, "it is shown, and escaped"


def test_markup_in_a_search_stays_text(world: World) -> None:
    for payload in PAYLOADS:
        page = world.browser_of("owner").get("/clients/", {"q": payload}).content.decode()

        assert not WRITTEN_BY_THE_PAGE.search(page)


def test_no_script_of_ours_makes_markup_of_text() -> None:
    """ASVS 5.0 3.2.2"""
    scripts = (ROOT / "coaching" / "static" / "muster").glob("*.js")
    makes_markup = re.compile(r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\(|new Function|srcdoc")

    assert [path.name for path in scripts if makes_markup.search(path.read_text(encoding="utf-8"))] == []


def test_no_script_of_ours_leaves_anything_in_the_browser() -> None:
    """ASVS 5.0 14.3.3"""
    scripts = (ROOT / "coaching" / "static" / "muster").glob("*.js")
    keeps = re.compile(r"localStorage|sessionStorage|indexedDB|caches\.|document\.cookie|serviceWorker")

    assert [path.name for path in scripts if keeps.search(path.read_text(encoding="utf-8"))] == []
