"""A seed gives one roster, and what has happened stays as it was when the days go on."""

from __future__ import annotations

import time
from datetime import timedelta

import pytest

from coaching.simulation import SimulatedRoster, simulate
from coaching.simulation.rows import Row
from tests.coaching.simulation.conftest import STAGED_FOR


def test_a_seed_gives_the_same_roster_twice(roster: SimulatedRoster) -> None:
    again = simulate(1, until=STAGED_FOR)

    assert again == roster


def test_another_seed_gives_other_people(roster: SimulatedRoster) -> None:
    other = simulate(2, until=STAGED_FOR)

    assert {row["name"] for row in other.clients} != {row["name"] for row in roster.clients}


@pytest.mark.parametrize("days_on", [1, 2, 5, 13, 45, 100])
def test_the_past_stays_when_the_days_go_on(roster: SimulatedRoster, days_on: int) -> None:
    later = simulate(1, until=STAGED_FOR + timedelta(days_on), staged_for=STAGED_FOR)

    assert _rows_gone(roster.logs, later.logs) == []
    assert _rows_gone(roster.blocks, later.blocks) == []
    assert len(later.logs) > len(roster.logs)


def _rows_gone(earlier: list[Row], later: list[Row]) -> list[Row]:
    kept = {tuple(row.values()) for row in later}
    return [row for row in earlier if tuple(row.values()) not in kept]


@pytest.mark.parametrize("days_on", [1, 20, 100])
def test_what_comes_in_later_was_done_no_earlier_than_two_months_ago(roster: SimulatedRoster, days_on: int) -> None:
    later = simulate(1, until=STAGED_FOR + timedelta(days_on), staged_for=STAGED_FOR)

    new = _rows_gone(later.logs, roster.logs)

    assert min(row["performed_on"] for row in new) > str(STAGED_FOR - timedelta(60))


def test_a_roster_of_36_over_26_weeks_takes_a_processor_less_than_a_second_and_a_half() -> None:
    started = time.process_time()

    simulate(3, until=STAGED_FOR)

    assert time.process_time() - started < 1.5
