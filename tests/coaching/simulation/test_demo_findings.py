"""What the demo's people were made to do is found, on the days it is true and on no others.

The export is read for every Sunday of a quarter, on which nobody trains, and for the day the roster was drawn for.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

import pytest
from pytest_django import DjangoDbBlocker

from coaching.loads.loading import load_file
from coaching.monitoring.export import export_rows
from coaching.monitoring.models import Kind
from coaching.simulation import SimulatedRoster, write
from coaching.simulation.rows import Row
from roster.people.models import Coach
from tests.coaching.factories import CoachFactory, StudioFactory
from tests.coaching.module_database import forgotten_afterwards
from tests.coaching.simulation.conftest import STAGED_FOR

LAST_SUNDAY = STAGED_FOR - timedelta(STAGED_FOR.isoweekday())
DAYS = [*(LAST_SUNDAY - timedelta(7 * weeks) for weeks in range(13, -1, -1)), STAGED_FOR]
# No file tells of check-in calls: those of the demo are held to in tests/coaching/demo.
KINDS_OF_FILES = set(Kind.values) - {Kind.CHECK_IN_DUE.value}
# Client, kind, subject, urgency.
Finding = tuple[str, str, str, str]
Found = dict[date, set[Finding]]

# The mark sees to it that there is a database for tests, before the fixture fills it.
pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def found(
    roster: SimulatedRoster,
    django_db_setup: None,
    django_db_blocker: DjangoDbBlocker,
    tmp_path_factory: pytest.TempPathFactory,
) -> Iterator[Found]:
    directory = tmp_path_factory.mktemp("roster")
    write(roster, directory)
    with forgotten_afterwards(django_db_blocker):
        coach = CoachFactory(studio=StudioFactory(), role=Coach.Role.OWNER)
        for kind in ("clients", "blocks", "logs"):
            report = load_file(kind, directory / f"{kind}.csv", coach.studio, by=coach)
            assert list(report.faults) == []
            assert report.warnings == []
        yield {day: _findings(export_rows("flags", coach.studio, as_of=day)) for day in DAYS}


def _findings(rows: list[dict[str, object]]) -> set[Finding]:
    return {(str(row["client"]), str(row["kind"]), str(row["subject"]), str(row["urgency"])) for row in rows}


def _finding(row: Row) -> Finding:
    return row["client"], row["kind"], row["subject"], row["urgency"]


def _is_true(row: Row, day: date) -> bool:
    return row["holds_from"] <= str(day) and str(day) <= (row["holds_until"] or "9")


def _true_on(roster: SimulatedRoster, day: date) -> set[Finding]:
    return {_finding(row) for row in roster.truth if _is_true(row, day)}


@pytest.mark.parametrize("day", DAYS, ids=str)
def test_whatever_is_true_on_a_day_is_found_on_it(roster: SimulatedRoster, found: Found, day: date) -> None:
    assert _true_on(roster, day) - found[day] == set()


@pytest.mark.parametrize("day", DAYS, ids=str)
def test_nothing_but_a_finished_round_is_found_that_is_not_true(
    roster: SimulatedRoster, found: Found, day: date
) -> None:
    # A round that ends well is no situation: it comes to everybody who does well.
    untold = {finding for finding in found[day] - _true_on(roster, day) if finding[1] != "ready"}

    assert untold == set()


@pytest.mark.parametrize("kind", sorted(KINDS_OF_FILES))
def test_every_kind_is_found_today_and_was_not_always(found: Found, kind: str) -> None:
    today = {finding for finding in found[STAGED_FOR] if finding[1] == kind}
    always = set.intersection(*found.values())

    assert today
    assert today - always


@pytest.mark.parametrize("kind", sorted(KINDS_OF_FILES - {"plan_runs_out", "ready"}))
def test_every_kind_was_found_of_somebody_and_is_gone_again(roster: SimulatedRoster, found: Found, kind: str) -> None:
    over = [row for row in roster.truth if row["kind"] == kind and "" < row["holds_until"] < str(STAGED_FOR)]

    seen = [row for row in over for day in DAYS if _is_true(row, day) and _finding(row) in found[day]]

    assert seen
    assert all(_finding(row) not in found[STAGED_FOR] for row in seen)


def test_most_people_are_fine_today(found: Found, roster: SimulatedRoster) -> None:
    with_a_finding = {client for client, _, _, urgency in found[STAGED_FOR] if urgency != "good"}

    assert 10 <= len(with_a_finding) <= 14
    assert len(roster.clients) == 36
