"""Whatever stands in a cell is taken or is a fault in its row; no cell breaks a loader or is half saved."""

from __future__ import annotations

import csv
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from django.db import transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from coaching.loads.loading import LOADERS
from roster.logs.models import SessionLog
from roster.people.models import Coach
from roster.tables.faults import FileRefused
from roster.tables.parsing import parse_file
from roster.tables.reading import read_table
from roster.tables.report import LoadReport
from tests.rosters.generate import random_roster
from tests.rosters.roster import Roster

NOW = datetime(2026, 12, 1, 7, tzinfo=UTC)
ODD_CELLS = [
    "", "0", "-1", "1.5", "1,5", "1e9", "nan", "½", "٣", "8 each", "12-10-8", "30 s", "bw", "band red", "yes", "lb",
    "2026-02-30", "31.12.2026", "2099-12-31", "9" * 40, "x" * 5000, "=1+1", "\x1b[31m", "\u202e", "a;b", 'a"b', "a\nb",
    "00000000-0000-0000-0000-000000000000", "mon", "deload", "each", "ß" * 80, "K-001", "k-001 ",
]  # fmt: skip
odd_cells = st.sampled_from(ODD_CELLS) | st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"))


@pytest.fixture(scope="module")
def roster() -> Roster:
    return random_roster(11, clients=2, weeks=8, labels="mixed")


@pytest.fixture
def recorded(roster: Roster, coach: Coach, tmp_path: Path) -> Coach:
    """The owner of a record that has the roster."""
    for kind in LOADERS:
        assert not _load(kind, _rows(roster, kind), tmp_path, coach).faults
    return coach


def _rows(roster: Roster, kind: str) -> list[dict[str, Any]]:
    return [dict(row) for row in getattr(roster, kind)]


def _load(kind: str, rows: list[dict[str, Any]], directory: Path, coach: Coach) -> LoadReport:
    path = directory / f"{kind}.csv"
    with path.open("w", newline="") as file:
        writer = csv.DictWriter(file, list(rows[0]), quoting=csv.QUOTE_ALL)
        writer.writeheader()
        writer.writerows(rows)
    table = read_table(path, LOADERS[kind].columns, parse=parse_file)
    return LOADERS[kind].load(table, studio=coach.studio, by=coach, now=NOW)


@pytest.mark.parametrize("kind", LOADERS)
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_any_cell_is_taken_or_is_a_fault(
    kind: str, recorded: Coach, roster: Roster, tmp_path: Path, data: st.DataObject
):
    rows = _rows(roster, kind)
    number = data.draw(st.integers(0, len(rows) - 1), label="row")
    column = data.draw(st.sampled_from(list(rows[0])), label="column")
    rows[number][column] = data.draw(odd_cells, label="cell")
    logs_before = SessionLog.objects.count()

    with transaction.atomic():
        report = _load(kind, rows, tmp_path, recorded)
        transaction.set_rollback(True)

    assert SessionLog.objects.count() == logs_before
    if report.faults:
        assert all(fault.row and fault.reason for fault in report.faults)
    else:
        assert report.created + report.changed + report.unchanged > 0
        assert bool(report.client_ids) == bool(report.created + report.changed)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(cut=st.floats(0, 1))
def test_a_file_in_quotes_that_is_cut_off_is_refused_or_its_rows_are_whole(
    cut: float, recorded: Coach, roster: Roster, tmp_path: Path
):
    _load("logs", _rows(roster, "logs"), tmp_path, recorded)
    whole = tmp_path / "logs.csv"
    rows = read_table(whole, LOADERS["logs"].columns, parse=parse_file).rows
    half = tmp_path / "half.csv"
    kept = whole.read_bytes()[: int(cut * whole.stat().st_size)]
    half.write_bytes(kept)

    with suppress(FileRefused):
        rows_left = read_table(half, LOADERS["logs"].columns, parse=parse_file).rows
        # After the last separator of a row nothing can tell that its last cell is missing.
        whole_rows = rows_left[:-1] if kept.endswith(b",") else rows_left

        assert whole_rows == rows[: len(whole_rows)]
