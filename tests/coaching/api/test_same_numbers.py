"""The interface tells the very figures of the exports and the Turnout board, page after page, on any day."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

import pytest
import time_machine
from bs4 import BeautifulSoup
from django.test import Client as Browser
from django.utils import timezone

from coaching.loads.loading import load_file
from coaching.monitoring.export import export_rows
from coaching.monitoring.export_formats import json_value
from coaching.monitoring.fact_shapes import COLUMNS
from coaching.monitoring.models import ClientState
from coaching.monitoring.refresh import run_due
from roster.people.models import Client, Coach
from tests.coaching.api.programs import Program
from tests.rosters.generate import FIRST_MONDAY, random_roster
from tests.rosters.roster import write_files

WEEKS = 14
RESOURCE_OF_TABLE = {"sessions": "planned-sessions", "weeks": "weeks", "exposures": "exposures", "flags": "flags"}
# A few days of the roster's time, one before it; and None, today, as at which facts are stored.
DAYS = [FIRST_MONDAY + timedelta(days=days) for days in (-3, 11, 40, 75)]
pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _in_the_last_week() -> Iterator[None]:
    with time_machine.travel(f"{FIRST_MONDAY + timedelta(weeks=WEEKS, days=-4)}T09:00:00Z", tick=False):
        yield


@pytest.fixture
def full(coach: Coach, tmp_path: Any) -> Coach:
    """A coach with a roster in several zones, loaded and up to date."""
    roster = random_roster(seed=301, clients=7, weeks=WEEKS)
    for kind, path in zip(("clients", "blocks", "logs"), write_files(roster, tmp_path), strict=True):
        assert load_file(kind, path, coach.studio, by=coach).faults.total == 0
    run_due(timezone.now())
    return coach


def exported(coach: Coach, table: str, day: date | None) -> list[dict[str, Any]]:
    rows = export_rows(table, coach.studio, as_of=day)
    return [{name: _as_json(name, row[name]) for name in COLUMNS[table]} for row in rows]


def _as_json(name: str, value: Any) -> Any:
    return str(value) if name == "target_reps" else json_value(value)


def told(program: Program, table: str, address: str) -> list[dict[str, Any]]:
    return [{name: row[name] for name in COLUMNS[table]} for row in program.all_rows(address)]


def in_order(rows: list[dict[str, Any]]) -> list[str]:
    return sorted(str(sorted(row.items())) for row in rows)


def question(day: date | None) -> str:
    return "" if day is None else f"&as_of={day}"


@pytest.mark.parametrize("table", COLUMNS)
@pytest.mark.parametrize("day", [None, *DAYS], ids=str)
def test_every_table_is_that_of_the_export(full: Coach, table: str, day: date | None) -> None:
    rows = told(Program(full), table, f"{RESOURCE_OF_TABLE[table]}/?limit=23{question(day)}")

    expected = exported(full, table, day)
    assert in_order(rows) == in_order(expected)
    assert expected or table != "sessions"


@pytest.mark.parametrize("table", COLUMNS)
def test_each_client_s_rows_come_in_the_order_of_the_export(full: Coach, table: str) -> None:
    program = Program(full)

    for client in Client.objects.all():
        rows = told(program, table, f"{RESOURCE_OF_TABLE[table]}/?client={client.public_id}&limit=9")

        expected = [row for row in exported(full, table, None) if row["client"] == client.key]
        assert in_order(rows) == in_order(expected)
        if table in {"weeks", "exposures", "flags"}:
            assert rows == expected


@pytest.mark.parametrize("table", COLUMNS)
def test_stored_and_computed_facts_are_told_alike(full: Coach, table: str) -> None:
    program, address = Program(full), f"{RESOURCE_OF_TABLE[table]}/?limit=31"
    stored = program.all_rows(address)

    ClientState.objects.all().update(as_of=FIRST_MONDAY)

    assert program.all_rows(address) == stored


def test_a_log_is_told_alike_stored_or_computed_and_counts_as_in_the_weeks(full: Coach) -> None:
    program = Program(full)
    stored = program.all_rows("session-logs/?limit=31")
    ClientState.objects.all().update(as_of=FIRST_MONDAY)

    assert program.all_rows("session-logs/?limit=31") == stored
    tonnage = sum(row["tonnage_kg"] or 0 for row in stored)
    assert tonnage == pytest.approx(sum(row["tonnage_kg"] or 0 for row in program.all_rows("weeks/")))
    assert tonnage > 0


@pytest.mark.parametrize("day", [None, *DAYS[1:]], ids=str)
def test_turnout_is_that_of_the_board(full: Coach, day: date | None) -> None:
    rows = Program(full).all_rows(f"turnout/?limit=3&state=active{question(day)}")
    browser = Browser()
    browser.force_login(full)

    page = browser.get("/turnout/?whose=all&sort=name" + (f"&as_of={day}" if day else ""))

    told = {
        row["name"]: [
            f"{row[f'attended_{weeks}_weeks']}/{row[f'due_{weeks}_weeks']}" if row[f"due_{weeks}_weeks"] else "–"
            for weeks in (4, 12)
        ]
        for row in rows
    }
    assert told == _figures_of_the_board(page.content.decode())
    assert len(told) == Client.objects.active().count()


def _figures_of_the_board(page: str) -> dict[str, list[str]]:
    rows = BeautifulSoup(page, "html.parser").select("table.board tbody tr")
    return {
        row.select_one("th a").get_text(strip=True): [cell.get_text(strip=True) for cell in row.select("td.number")]
        for row in rows
    }


def test_clients_are_those_of_the_page(full: Coach) -> None:
    rows = Program(full).all_rows("clients/?limit=3")
    browser = Browser()
    browser.force_login(full)

    lines = BeautifulSoup(browser.get("/clients/?state=all").content, "html.parser").select("table tbody tr")

    shown = {line.select_one("th a").get_text(strip=True): line.get_text(" ", strip=True).split() for line in lines}
    assert sorted(shown) == sorted(row["name"] for row in rows)
    assert [row["client"] for row in rows if not {row["client"], row["state"]} <= set(shown[row["name"]])] == []


@pytest.mark.parametrize("day", [None, DAYS[2]], ids=str)
def test_turnout_tells_each_session_of_twelve_weeks(full: Coach, day: date | None) -> None:
    program = Program(full)
    sessions = program.all_rows(f"planned-sessions/?limit=500{question(day)}")

    for row in program.all_rows(f"turnout/?limit=500{question(day)}"):
        assert len(row["weeks"]) == 12
        for week in row["weeks"]:
            there = (one for one in sessions if (one["client"], one["iso_week"]) == (row["client"], week["iso_week"]))
            assert week["statuses"] == [one["status"] for one in sorted(there, key=_by_suggested_day)]


def _by_suggested_day(session: dict[str, Any]) -> Any:
    return session["suggested_on"]
