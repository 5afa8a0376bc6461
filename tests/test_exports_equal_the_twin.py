"""The four exported tables equal those of the plain twin, on invented rosters, as at twenty past days each."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
import time_machine

from coaching.loads.loading import load_file
from coaching.monitoring.export import export_rows
from roster.people.models import Coach, Studio
from tests.plain_twin import exports as twin
from tests.plain_twin.differences import find_differences
from tests.plain_twin.reading import read_record
from tests.plain_twin.record import Record
from tests.rosters.generate import FIRST_MONDAY, random_roster
from tests.rosters.roster import Roster, write_files

WEEKS = 18
# About every sixth day, and so every day of the week, over the roster's time and a little beyond it.
DAYS = [FIRST_MONDAY + timedelta(days=4 + 7 * WEEKS * step // 19) for step in range(20)]
TABLES = {
    "sessions": twin.export_sessions,
    "weeks": twin.export_weeks,
    "exposures": twin.export_exposures,
    "flags": twin.export_flags,
}
VARIANTS: dict[str, dict[str, Any]] = {
    "two stages": {"seed": 101, "stages": 2},
    "three stages": {"seed": 102, "stages": 3},
    "five stages": {"seed": 103, "stages": 5},
    "two sessions a week": {"seed": 104, "sessions_a_week": 2},
    "three sessions a week": {"seed": 105, "sessions_a_week": 3},
    "four sessions a week": {"seed": 106, "sessions_a_week": 4},
    "pounds": {"seed": 107, "unit": "lb"},
    "no labels": {"seed": 108, "labels": "none"},
    "all labels": {"seed": 109, "labels": "all"},
    "weekly senders": {"seed": 110, "sends": "weekly"},
    "block-end senders": {"seed": 111, "sends": "block"},
    "a bit of everything": {"seed": 112},
}

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _after_it_all():
    with time_machine.travel("2027-06-01T09:00:00Z", tick=False):
        yield


@pytest.fixture
def coach() -> Coach:
    studio = Studio.objects.create(name="Twin studio")
    return Coach.objects.create_user("twin@example.org", studio=studio, role=Coach.Role.OWNER)


def _load(roster: Roster, directory: Path, coach: Coach) -> Record:
    for kind, path in zip(("clients", "blocks", "logs"), write_files(roster, directory), strict=True):
        assert load_file(kind, path, coach.studio, by=coach).faults.total == 0
    return read_record(roster.clients, roster.blocks, roster.logs)


def _differences(record: Record, studio: Studio, day: date, client_key: str | None = None) -> list[str]:
    found = []
    for table, export in TABLES.items():
        expected = [row for row in export(record, day) if client_key in (None, row["client"])]
        actual = export_rows(table, studio, as_of=day, client_key=client_key)
        found += [f"{day}: {difference}" for difference in find_differences(table, expected, actual)]
    return found


@pytest.mark.parametrize("variant", VARIANTS)
def test_all_tables_equal_the_twin_s_on_twenty_days(variant, coach, tmp_path):
    roster = random_roster(**VARIANTS[variant], clients=5, weeks=WEEKS)
    record = _load(roster, tmp_path, coach)

    differences = [told for day in DAYS for told in _differences(record, coach.studio, day)]

    assert not differences, f"{len(differences)} differences:\n" + "\n".join(differences[:40])


def test_one_client_s_tables_equal_theirs_among_all(coach, tmp_path):
    roster = random_roster(seed=113, clients=4, weeks=WEEKS)
    record = _load(roster, tmp_path, coach)

    differences = [
        told for client in record.clients for told in _differences(record, coach.studio, DAYS[12], client.key)
    ]

    assert not differences, "\n".join(differences[:40])


def test_loading_the_same_files_twice_changes_no_table(coach, tmp_path):
    roster = random_roster(seed=114, clients=3, weeks=10)
    _load(roster, tmp_path, coach)
    record = _load(roster, tmp_path, coach)

    differences = _differences(record, coach.studio, DAYS[9])

    assert not differences, "\n".join(differences[:40])
