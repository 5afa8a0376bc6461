"""Which days a pack is about, and which days it is held against.

A calendar month stands beside the month before it, a block of the client beside their block before, any other days
beside as many days before them. A period has 366 days at most, and has begun.
"""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from coaching.check_ins.content import Period

MOST_DAYS = 366
FIRST_DAY = date(2000, 1, 1)


class PeriodRefused(Exception):
    """There is no pack of such a period; the message says why."""


@dataclass(frozen=True, slots=True)
class BlockDays:
    """A published block of a client."""

    label: str
    starts_on: date
    ends_on: date


def month_period(year: int, month: int) -> Period:
    if not 1 <= month <= 12 or not 1 <= year <= 9999:
        raise PeriodRefused(f"There is no month {year}-{month:02}.")
    first = date(year, month, 1)
    return Period(first, first.replace(day=monthrange(year, month)[1]), f"{first:%B} {year}")


def month_before(day: date) -> Period:
    """The last whole month before a day's."""
    last = day.replace(day=1) - timedelta(days=1)
    return month_period(last.year, last.month)


def block_period(block: BlockDays) -> Period:
    return Period(block.starts_on, block.ends_on, block.label)


def days_period(first: date, last: date) -> Period:
    """Any two dates; those of a whole month are that month."""
    if last < first:
        raise PeriodRefused(f"The period ends on {date_text(last)}, before it begins.")
    whole = month_period(first.year, first.month)
    return whole if (whole.first, whole.last) == (first, last) else Period(first, last, range_text(first, last))


def check_period(period: Period, today: date) -> Period:
    """The period itself, if there can be a pack of it."""
    days = (period.last - period.first).days + 1
    if days < 1:
        raise PeriodRefused(f"The period ends on {date_text(period.last)}, before it begins.")
    if days > MOST_DAYS:
        raise PeriodRefused(f"A period has {MOST_DAYS} days at most; this one has {days:,}.")
    if period.first < FIRST_DAY:
        raise PeriodRefused(f"A period begins on {date_text(FIRST_DAY)} at the earliest.")
    if period.first > today:
        raise PeriodRefused(f"{period.title} begins on {date_text(period.first)}, which is still to come.")
    return period


def is_month(period: Period) -> bool:
    return period == month_period(period.first.year, period.first.month)


def period_before(period: Period, blocks: Iterable[BlockDays]) -> Period | None:
    """What it stands beside; none for somebody's first block. `blocks` are the client's published ones."""
    if is_month(period):
        return month_before(period.first)
    in_order = sorted(blocks, key=lambda block: (block.starts_on, block.ends_on, block.label))
    if period in [block_period(block) for block in in_order]:
        earlier = [block for block in in_order if block.starts_on < period.first]
        return block_period(earlier[-1]) if earlier else None
    last = period.first - timedelta(days=1)
    return days_period(last - (period.last - period.first), last)


def date_text(day: date) -> str:
    """Such as "3 March 2026"."""
    return f"{day.day} {day:%B} {day.year}"


def range_text(first: date, last: date) -> str:
    """Such as "3 to 17 March 2026", "28 March to 3 April 2026", "28 December 2026 to 3 January 2027"."""
    if first == last:
        return date_text(first)
    if (first.year, first.month) == (last.year, last.month):
        return f"{first.day} to {date_text(last)}"
    start = f"{first.day} {first:%B}" if first.year == last.year else date_text(first)
    return f"{start} to {date_text(last)}"
