"""Which period is asked for: a month, a block of the client, any two days; else the last month that is over."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from coaching.check_ins.content import Period
from coaching.check_ins.periods import (
    BlockDays,
    PeriodRefused,
    block_period,
    check_period,
    days_period,
    month_before,
    month_period,
)
from roster.blocks.models import Block
from roster.labels import fold
from roster.people.models import Client


@dataclass(frozen=True, slots=True)
class Asked:
    """As somebody wrote it; empty is not asked for."""

    month: str = ""
    block: str = ""
    first: str = ""
    last: str = ""

    @property
    def is_anything(self) -> bool:
        return bool(self.month or self.block or self.first or self.last)


def period_of_all(asked: Asked, today: date) -> Period:
    """One that is the same for whomever it is asked."""
    if bool(asked.month) + bool(asked.block) + bool(asked.first or asked.last) > 1:
        raise PeriodRefused("Ask for a month, a block or two days, not for several of them.")
    if asked.month:
        return check_period(_month(asked.month), today)
    if bool(asked.first) != bool(asked.last):
        raise PeriodRefused("A period of days needs both its first and its last day.")
    if asked.first:
        return check_period(days_period(_day(asked.first), _day(asked.last)), today)
    return month_before(today)


def period_of(client: Client, asked: Asked, today: date) -> Period:
    period = period_of_all(asked, today)
    return check_period(_block(client, asked.block), today) if asked.block else period


def blocks_of(client: Client) -> list[BlockDays]:
    """The published ones, the latest first."""
    blocks = Block.objects.published().filter(client=client).only("label", "starts_on", "weeks")
    in_order = sorted(blocks, key=lambda block: (block.starts_on, block.pk), reverse=True)
    return [BlockDays(block.label, block.starts_on, block.ends_on) for block in in_order]


def _block(client: Client, label: str) -> Period:
    found = [block for block in blocks_of(client) if fold(block.label) == fold(label)]
    if not found:
        raise PeriodRefused(f"There is no block “{label}” of {client.name}.")
    return block_period(found[0])


def _month(text: str) -> Period:
    year, _, month = text.strip().partition("-")
    if not (year.isascii() and year.isdecimal() and len(year) == 4 and month.isascii() and month.isdecimal()):
        raise PeriodRefused(f"“{text}” is no month such as 2026-03.")
    return month_period(int(year), int(month))


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise PeriodRefused(f"“{text}” is no day such as 2026-03-15.") from None
