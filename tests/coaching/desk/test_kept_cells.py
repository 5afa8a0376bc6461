"""Cells of the board are kept as long as the facts behind them stand."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from django.utils.safestring import SafeString

from coaching.desk.kept_cells import Cells, KeptCells
from coaching.monitoring.models import ClientState

MONDAY = date(2026, 4, 13)
NOW = datetime(2026, 4, 15, 7, tzinfo=UTC)
CELLS = Cells(SafeString("<td></td>"), is_behind=False)


def a_state(client_id: int = 1, computed_at: datetime | None = NOW) -> ClientState:
    return ClientState(client_id=client_id, as_of=NOW.date(), computed_at=computed_at)


def keep(state: ClientState) -> None:
    KeptCells(MONDAY).keep(state, CELLS)


def test_cells_of_facts_that_stand_are_at_hand() -> None:
    keep(a_state())
    look = KeptCells(MONDAY)

    assert look.find(a_state())
    assert look.at_hand == {1: CELLS}


@pytest.mark.parametrize(
    ("state", "monday"),
    [
        (a_state(client_id=2), MONDAY),
        (a_state(computed_at=NOW + timedelta(microseconds=1)), MONDAY),
        (a_state(), MONDAY + timedelta(weeks=1)),
    ],
)
def test_cells_of_another_client_of_other_facts_or_of_another_week_are_not(state: ClientState, monday: date) -> None:
    keep(a_state())
    look = KeptCells(monday)

    assert not look.find(state)
    assert look.at_hand == {}


def test_facts_that_were_stored_nowhere_are_not_kept() -> None:
    keep(a_state(computed_at=None))

    assert not KeptCells(MONDAY).find(a_state(computed_at=None))


def test_what_is_at_hand_stays_so_when_the_rest_is_forgotten(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(KeptCells, "most_kept", 1)
    keep(a_state())
    look = KeptCells(MONDAY)
    look.find(a_state())

    keep(a_state(client_id=2))

    assert look.at_hand == {1: CELLS}
    assert not KeptCells(MONDAY).find(a_state())
