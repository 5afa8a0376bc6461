"""Dates in a column: ISO, or day-month-year when the column itself proves that order.

“3.4.2026” may be a day in March or in April. A column proves the day to come first when one of its dates has a first
number above 12 and none a second number above 12; without proof every such date is refused.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date
from enum import Enum

from roster.tables.cells import Cell, CellRefused, Parser

ISO_DATE = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")
THREE_NUMBERS = re.compile(r"(?<![0-9])([0-9]{1,2})([./-])([0-9]{1,2})\2([0-9]{4})(?![0-9])")
FIRST_YEAR, LAST_YEAR = 1990, 2099


class Order(Enum):
    """Which of the first two numbers is the day, as far as a column proves it."""

    DAY_FIRST = "day first"
    MONTH_FIRST = "month first"
    UNPROVEN = "unproven"
    MIXED = "mixed"


REASONS = {
    Order.UNPROVEN: "may be day-month or month-day, and no date of the column proves which: write it as 2026-04-30",
    Order.MONTH_FIRST: "stands in a column with the month first: write it as 2026-04-30",
    Order.MIXED: "stands in a column with the day first here and the month first there: write it as 2026-04-30",
}


def proven_order(cells: Iterable[Cell]) -> Order:
    first_is_day = second_is_day = False
    for cell in cells:
        for first, _, second, _ in THREE_NUMBERS.findall(cell) if isinstance(cell, str) else ():
            first_is_day |= int(first) > 12
            second_is_day |= int(second) > 12
    if first_is_day and second_is_day:
        return Order.MIXED
    if second_is_day:
        return Order.MONTH_FIRST
    return Order.DAY_FIRST if first_is_day else Order.UNPROVEN


def date_parser(column: Iterable[Cell]) -> Parser[date]:
    """A parser of the dates of one column, which is looked through first for its order."""
    order = proven_order(column)

    def parse_date(cell: Cell) -> date | None:
        if isinstance(cell, date):
            return _plausible(cell.year, cell.month, cell.day)
        if cell == "":
            return None
        if match := ISO_DATE.fullmatch(cell):
            return _plausible(*(int(part) for part in match.groups()))
        if match := THREE_NUMBERS.fullmatch(cell):
            return _in_order(match, order)
        raise CellRefused("is no date such as 2026-04-30")

    return parse_date


def _in_order(match: re.Match[str], order: Order) -> date:
    if order is not Order.DAY_FIRST:
        raise CellRefused(REASONS[order])
    day, _, month, year = match.groups()
    return _plausible(int(year), int(month), int(day))


def _plausible(year: int, month: int, day: int) -> date:
    try:
        found = date(year, month, day)
    except ValueError:
        raise CellRefused("is no day of the calendar") from None
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise CellRefused(f"is not within the years {FIRST_YEAR} to {LAST_YEAR}")
    return found
