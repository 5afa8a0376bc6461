"""Which letter comes before which, and which are capitals of which, is ours to say: the same on every database."""

from __future__ import annotations

import pytest
from bs4 import BeautifulSoup
from django.test import Client as Browser

from coaching.monitoring.fact_sources import FLAGS, FactSource
from coaching.monitoring.models import Kind
from roster.people.models import Client, Coach
from tests.coaching.api.programs import Program
from tests.coaching.factories import ClientFactory, ClientStateFactory, ExerciseFactory, FlagFactory

pytestmark = pytest.mark.usefixtures("wednesday")
SUBJECTS = ["row", "Row", "Ärm row", "arm row", "Zercher squat", "-hang", "_hang", "ß", "É", "e", "1", "Łuk", "łuk"]
# By names without accents and capitals; where those are alike, by the numbers of their letters.
IN_ORDER = ["Ada-Lou", "Adam", "Ádám", "bo", "Bo B", "Ödön", "Zoe"]


@pytest.fixture
def named(coach: Coach) -> list[Client]:
    made = [ClientFactory(lead=coach, name=name) for name in reversed(IN_ORDER)]
    for client in made:
        ClientStateFactory(client=client)
        FlagFactory(client=client, kind=Kind.STALL, subject="row")
    return made


@pytest.mark.parametrize("size", [1, 4, 500])
def test_findings_come_by_kind_and_exercise_on_pages_of_any_size(program: Program, bo: Client, size: int) -> None:
    for subject in SUBJECTS:
        FlagFactory(client=bo, kind=Kind.STALL, subject=subject)
        FlagFactory(client=bo, kind=Kind.NO_STEP, subject=subject)

    rows = program.all_rows(f"flags/?limit={size}")

    assert [(row["kind"], row["subject"]) for row in rows] == sorted(
        (kind, subject) for kind in (Kind.STALL.value, Kind.NO_STEP.value) for subject in SUBJECTS
    )


def test_a_page_of_stored_findings_goes_on_with_computed_ones(
    program: Program, bo: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    flags = [FlagFactory(client=bo, kind=Kind.STALL, subject=subject) for subject in SUBJECTS]
    stored = program.get("flags/?limit=5").json()
    computing = FactSource(FLAGS.stored, lambda assessed: flags, FLAGS.order, FLAGS.texts)
    monkeypatch.setattr("coaching.api.resources.flags.Flags.source", computing)
    bo.state_of_facts.delete()

    rest = program.all_rows(stored["next"])

    assert [row["subject"] for row in stored["results"] + rest] == sorted(SUBJECTS)


@pytest.mark.parametrize(
    ("address", "names"),
    [("/clients/", "tbody th a"), ("/turnout/?sort=name", "table.board tbody th a"), ("/", "main h3 a")],
)
def test_people_come_by_name_on_every_page(coach: Coach, named: list[Client], address: str, names: str) -> None:
    browser = Browser()
    browser.force_login(coach)

    page = BeautifulSoup(browser.get(address).content, "html.parser")

    assert [name.get_text(strip=True) for name in page.select(names)] == IN_ORDER


@pytest.mark.parametrize("typed", ["ödön", "ÖDÖN", "odon", "Ödö", "DÖN"])
def test_a_search_finds_capitals_and_accents_of_every_alphabet(
    coach: Coach, program: Program, named: list[Client], typed: str
) -> None:
    browser = Browser()
    browser.force_login(coach)

    page = BeautifulSoup(browser.get("/clients/", {"q": typed}).content, "html.parser")

    assert [name.get_text(strip=True) for name in page.select("tbody th a")] == ["Ödön"]
    assert [row["name"] for row in program.all_rows(f"clients/?q={typed}")] == ["Ödön"]


@pytest.mark.parametrize("typed", ["ärm", "ÄRM", "Ärm r"])
def test_an_exercise_is_found_whatever_its_capitals(coach: Coach, program: Program, typed: str) -> None:
    for name in ("Ärm row", "arm row"):
        ExerciseFactory(studio=coach.studio, name=name, name_folded=name.casefold())

    assert [row["exercise"] for row in program.all_rows(f"exercises/?q={typed}")] == ["Ärm row"]
