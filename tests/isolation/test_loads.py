"""Files under review and loads: whose they are, and that nobody else learns that they are there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import product
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.utils import timezone

from coaching.check_ins.models import PackBatch
from coaching.loads.incoming import take_in
from coaching.loads.models import FileInReview, Load
from roster.logs.models import SessionLog
from roster.people.models import Client
from tests.coaching.loads.studios import load
from tests.isolation.routes import NOBODY, Reach, Route, desk_routes
from tests.isolation.test_desk import is_at_the_door, without_tokens, writing
from tests.isolation.world import NOT_LET_IN, SEES, World

# Who may load at all, and who sees a load that the lead made; a file under review is its own coach's alone.
MAY_LOAD = {"owner", "lead", "sharing coach", "covering coach", "colleague", "owner elsewhere", "coach elsewhere"}
SEES_THE_LOAD = {"owner", "lead"}
ANY_ID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")
LOGS = "client,performed_on,exercise,reps\n{key},2026-04-14,Row,{reps}\n"


@pytest.fixture
def values(world: World) -> dict[str, object]:
    """Of a file that the lead handed in, about their own client, of a load that they made, and of their packs."""
    lead = world.people["lead"]
    assert lead is not None
    key = world.clients["north"].client.key
    rows = [{"client": key, "performed_on": "2026-04-13", "exercise": "Row", "reps": "8"}]
    made = load("logs", rows, lead, name="quillwort.csv")
    upload = SimpleUploadedFile("quillwort week.csv", LOGS.format(key=key, reps=9).encode())
    file = take_in(upload, lead, timezone.now())
    batch = world.clients["north"].rows[PackBatch]
    return {"file_id": file.public_id, "load_id": made.public_id, "token": uuid4(), "public_id": batch.public_id}


def addresses(values: dict[str, object], part: str) -> list[str]:
    return [route.address(values) for route in desk_routes(Reach.FILES) if part in route.pattern]


def answers(world: World, who: str, places: list[str]) -> Iterator[HttpResponse]:
    """By looking and by sending, each as it would be right for whoever may."""
    for address, method in product(places, ("get", "post")):
        answer = getattr(world.browser_of(who), method)(address)
        if answer.status_code != 405:
            yield answer


@pytest.mark.parametrize("who", [who for who in SEES if who != "lead"])
def test_a_file_under_review_is_there_for_whoever_handed_it_in(
    world: World, values: dict[str, object], who: str
) -> None:
    for answer in answers(world, who, addresses(values, "<uuid:file_id>")):
        assert is_at_the_door(answer) if who in NOT_LET_IN else answer.status_code == 404

    assert FileInReview.objects.get().load is None


@pytest.mark.parametrize("who", [who for who in SEES if who not in SEES_THE_LOAD])
def test_a_load_is_there_for_whoever_made_it_and_the_owner(world: World, values: dict[str, object], who: str) -> None:
    for answer in answers(world, who, addresses(values, "<uuid:load_id>")):
        assert is_at_the_door(answer) if who in NOT_LET_IN else answer.status_code == 404

    assert Load.objects.get().undone_at is None


@pytest.mark.parametrize("who", sorted(SEES_THE_LOAD))
def test_whoever_may_undoes_the_load(world: World, values: dict[str, object], who: str) -> None:
    looks = [world.browser_of(who).get(Route(f"loads/<uuid:load_id>/{end}").address(values)) for end in ("", "undo/")]

    world.browser_of(who).post(Route("loads/<uuid:load_id>/undo/now/").address(values))

    assert {answer.status_code for answer in looks} == {200}
    assert Load.objects.get().undone_by == world.people[who]


@pytest.mark.parametrize("who", SEES)
def test_the_files_page_is_for_those_who_load_and_shows_nothing_of_others(
    world: World, values: dict[str, object], who: str
) -> None:
    answer = world.browser_of(who).get("/files/")

    page = answer.content.decode()
    assert is_at_the_door(answer) if who in NOT_LET_IN else answer.status_code == (200 if who in MAY_LOAD else 404)
    assert ("quillwort.csv" in page) == (who in SEES_THE_LOAD)
    assert ("quillwort week.csv" in page) == (who == "lead")


@pytest.mark.parametrize("who", [who for who in SEES if who not in {*MAY_LOAD, *NOT_LET_IN}])
def test_who_only_reads_hands_nothing_in(world: World, who: str) -> None:
    file = SimpleUploadedFile("week.csv", LOGS.format(key="quillwort.key", reps=9).encode())

    answer = world.browser_of(who).post("/files/add/", {"files": file, "whole": "yes"})

    assert answer.status_code == 404
    assert not FileInReview.objects.exists()


@pytest.mark.parametrize("who", ["colleague", "owner elsewhere", "coach elsewhere"])
def test_a_file_that_names_somebody_elses_client_names_nobody(world: World, who: str) -> None:
    """The same words for a client of a colleague, of another studio, and of nobody."""
    said = set()
    for key in ("quillwort.key", "nobody.key"):
        file = SimpleUploadedFile("week.csv", LOGS.format(key=key, reps=9).encode())
        answer = world.browser_of(who).post("/files/add/", {"files": file, "whole": "yes"}, follow=True)
        said.add(ANY_ID.sub("", without_tokens(answer).split("<main")[1].replace(key, "…")))

    assert len(said) == 1
    assert "is the key of no client" in said.pop()


@pytest.mark.parametrize("who", ["owner", "lead", "colleague", "owner elsewhere"])
def test_what_is_not_yours_looks_like_what_is_not_there(world: World, values: dict[str, object], who: str) -> None:
    nobody = dict.fromkeys(values, NOBODY)
    hidden = addresses(values, "<uuid:file_id>/") if who != "lead" else []
    hidden += addresses(values, "<uuid:load_id>/") if who not in SEES_THE_LOAD else []
    none = addresses(nobody, "<uuid:file_id>/")[0]

    for address in hidden:
        answer = world.browser_of(who).get(address)
        assert answer.status_code == 405 or without_tokens(answer) == without_tokens(world.browser_of(who).get(none))


@pytest.mark.parametrize("who", ["owner", "lead", "assistant", "signed out"])
def test_looking_at_files_and_loads_changes_nothing(world: World, values: dict[str, object], who: str) -> None:
    browser = world.browser_of(who)

    with writing():
        for address, method in product(addresses(values, ""), ("get", "head")):
            getattr(browser, method)(address)


def test_what_was_not_confirmed_is_in_nobodys_record(world: World, values: dict[str, object]) -> None:
    north = world.clients["north"].client

    assert not SessionLog.objects.filter(client=north, performed_on="2026-04-14").exists()
    assert Client.objects.count() == len(world.clients)
