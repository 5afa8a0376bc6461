"""Dates are ISO, or day-month-year where their column proves it."""

from __future__ import annotations

from contextlib import suppress
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roster.tables.cells import Cell, CellRefused
from roster.tables.dates import date_parser


def _read(cell: Cell, *others: Cell) -> date | None:
    return date_parser([cell, *others])(cell)


def test_an_iso_date_needs_no_proof():
    assert _read("2026-04-03", "1/2/2026") == date(2026, 4, 3)


def test_a_date_cell_needs_no_proof():
    assert _read(date(2026, 4, 3), "1/2/2026") == date(2026, 4, 3)


@pytest.mark.parametrize("cell", ["3.4.2026", "03/04/2026", "3-4-2026"])
def test_the_day_comes_first_when_a_first_number_above_twelve_proves_it(cell: str):
    assert _read(cell, "13.4.2026") == date(2026, 4, 3)


def test_without_proof_the_order_is_not_guessed():
    with pytest.raises(CellRefused, match="no date of the column proves which"):
        _read("3.4.2026", "12.4.2026", "2026-04-13")


def test_a_column_with_the_month_first_is_refused():
    with pytest.raises(CellRefused, match="with the month first"):
        _read("3/4/2026", "4/13/2026")


def test_a_column_that_contradicts_itself_is_refused():
    with pytest.raises(CellRefused, match="the day first here and the month first there"):
        _read("3/4/2026", "13/4/2026", "4/13/2026")


@pytest.mark.parametrize(
    "cell", ["2026-4-3", "20260403", "2026-W14-5", "3 April 2026", "3.4.26", "2026-04-03 18:30:00", "46115", "3.4-2026"]
)
def test_other_ways_to_write_a_date_are_refused(cell: str):
    with pytest.raises(CellRefused, match="is no date such as 2026-04-30"):
        _read(cell, "13.4.2026")


@pytest.mark.parametrize("cell", ["2026-02-29", "2026-13-01", "31.4.2026", "0.1.2026"])
def test_a_day_that_no_calendar_has_is_refused(cell: str):
    with pytest.raises(CellRefused, match="is no day of the calendar"):
        _read(cell, "13.4.2026")


@pytest.mark.parametrize("cell", ["0026-03-02", "1989-12-31", "2100-01-01"])
def test_a_year_that_nobody_meant_is_refused(cell: str):
    with pytest.raises(CellRefused, match="is not within the years"):
        _read(cell)


def test_an_empty_cell_is_no_date_and_no_fault():
    assert _read("") is None


@given(st.dates(date(1990, 1, 1), date(2099, 12, 31)))
def test_every_day_is_read_in_both_ways(day: date):
    assert _read(day.isoformat()) == day
    assert _read(f"{day.day}.{day.month}.{day.year}", "31.12.2026") == day


@given(st.lists(st.text("0123456789./- :", max_size=12), max_size=4))
def test_anything_like_a_date_is_a_day_or_refused(cells: list[str]):
    parse = date_parser(cells)

    for cell in cells:
        with suppress(CellRefused):
            assert (parse(cell) is None) == (cell == "")
