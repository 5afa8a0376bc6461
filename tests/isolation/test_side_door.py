"""Support at the framework's own side door: as far as it may see, and no studio further."""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest
from django.contrib.auth.models import Group
from django.db.models import Model
from django.http import HttpResponse

from roster.people.models import Coach, Studio
from tests.isolation.filled import FilledClient
from tests.isolation.routes import OF_A_ROW, admin_tables, table_address
from tests.isolation.world import NOT_LET_IN, SEES, World
from tests.signing_in import browser_of

# Groups of permissions belong to no studio.
TABLES = [model for model in admin_tables() if model is not Group]
STAFF_SEES = {"owner": {"north", "colleagues"}, "colleague": {"colleagues"}, "support": set()}
# Ways to ask a list for what others wrote.
SEARCHES = ("", "?q=wort", "?q=bladder", "?q=quill", "?o=1", "?all=")


def label(value: Any) -> str:
    return value if isinstance(value, str) else value._meta.label


def is_at_the_side_door(answer: HttpResponse) -> bool:
    return answer.status_code == 302 and answer.headers["Location"].startswith("/admin/login/")


def hidden_words(world: World, who: str) -> set[str]:
    words = {filled.word for key, filled in world.clients.items() if key not in STAFF_SEES[who]}
    return words | {"bogmoss"} | ({"fernmoss"} if who == "support" else set())


def may_see(model: type[Model], who: str, filled: FilledClient, key: str) -> bool:
    """Studio, coaches and shelf are the whole studio's; everything else is its client's."""
    is_shared = model in {Studio, Coach} or model._meta.label in {"blocks.Exercise", "blocks.Progression"}
    is_of_studio = who != "support" and filled.studio_word == "fernmoss"
    return is_of_studio if is_shared else key in STAFF_SEES[who]


@pytest.mark.parametrize("who", [who for who in SEES if who != "support"])
def test_the_side_door_is_for_staff_alone(world: World, who: str) -> None:
    browser = world.browser_of(who)
    tables = [f"/{table_address(model)}" for model in admin_tables()]

    answers = [browser.get(address) for address in ("/admin/", "/admin/autocomplete/", "/admin/r/1/1/", *tables)]

    assert all(is_at_the_side_door(answer) for answer in answers)
    assert all("wort" not in answer.content.decode() for answer in answers)


@pytest.mark.parametrize("who", STAFF_SEES)
def test_a_list_holds_nothing_of_others(world: World, staff: dict[str, Coach], who: str) -> None:
    browser = browser_of(staff[who])

    for model, question in product(TABLES, SEARCHES):
        answer = browser.get(f"/{table_address(model)}{question}", follow=True)

        assert answer.status_code == 200
        assert [word for word in hidden_words(world, who) if word in answer.content.decode()] == []


@pytest.mark.parametrize(("model", "who"), [*product(TABLES, STAFF_SEES)], ids=label)
def test_a_row_of_others_is_not_here_and_ones_own_is_not_changed(
    world: World, staff: dict[str, Coach], model: type[Model], who: str
) -> None:
    browser = browser_of(staff[who])

    for (key, filled), ending in product(world.clients.items(), OF_A_ROW):
        row = filled.rows[model]
        address = f"/{table_address(model)}" + ending.replace("<path:object_id>", str(row.pk))
        looked, changed = browser.get(address, follow=True), browser.post(address, {"name": "x"}, follow=True)

        if not may_see(model, who, filled, key):
            assert (looked.status_code, changed.status_code) == (404, 404)
        else:
            assert looked.status_code == (403 if ending.endswith("delete/") else 200)
            assert changed.status_code in {200, 403, 405}
        assert [word for word in hidden_words(world, who) if word in looked.content.decode()] == []
        unchanged = {name: value for name, value in vars(row).items() if not name.startswith("_")}
        assert model.objects.filter(pk=row.pk).values(*unchanged).get() == unchanged


@pytest.mark.parametrize("who", STAFF_SEES)
def test_completing_a_word_finds_nothing_of_others(world: World, staff: dict[str, Coach], who: str) -> None:
    browser = browser_of(staff[who])
    asked = [("people", "note", "client"), ("blocks", "block", "client"), ("logs", "setlog", "exercise")]

    for app, model, field in asked:
        question: dict[str, Any] = {"app_label": app, "model_name": model, "field_name": field, "term": "o"}
        answer = browser.get("/admin/autocomplete/", question)

        assert [word for word in hidden_words(world, who) if word in answer.content.decode()] == []


@pytest.mark.parametrize("who", STAFF_SEES)
def test_nothing_is_added_here(world: World, staff: dict[str, Coach], who: str) -> None:
    browser, before = browser_of(staff[who]), [model.objects.count() for model in TABLES]

    answers = [getattr(browser, how)(f"/{table_address(model)}add/") for model in TABLES for how in ("get", "post")]

    assert {answer.status_code for answer in answers} == {403}
    assert [model.objects.count() for model in TABLES] == before


def test_nobody_is_let_in_who_is_signed_out_or_disabled(world: World) -> None:
    disabled = world.people["disabled lead"]
    assert disabled is not None
    disabled.is_staff = disabled.is_superuser = True
    disabled.save()

    assert all(is_at_the_side_door(world.browser_of(who).get("/admin/")) for who in NOT_LET_IN)
