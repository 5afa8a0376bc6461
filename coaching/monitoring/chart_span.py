"""The time that all charts of a story share, so that eyes travel down from one to the next."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

# More days or months than this do not fit under a small chart.
MOST_DAYS = 4
MOST_MONTHS = 7
# Up to a quarter of a year, days are named; beyond it months.
WEEKS_TOLD_BY_DAY = 13


@dataclass(frozen=True)
class Span:
    """Whole weeks, from a Monday to a Sunday."""

    first: date
    last: date

    @classmethod
    def of_weeks(cls, weeks: int, day: date) -> Span:
        """So many weeks up to the one of `day`."""
        sunday = day + timedelta(days=6 - day.weekday())
        return cls(sunday - timedelta(days=7 * weeks - 1), sunday)

    @property
    def weeks(self) -> list[date]:
        """The Mondays."""
        return [self.first + timedelta(days=days) for days in range(0, (self.last - self.first).days, 7)]

    def ticks(self) -> list[tuple[date, str]]:
        """What the time axis names; a year where it begins."""
        if len(self.weeks) <= WEEKS_TOLD_BY_DAY:
            step = -(-len(self.weeks) // MOST_DAYS)
            return [(monday, f"{monday.day} {monday:%b}") for monday in self.weeks[::step]]
        return [(first, f"{first:%Y}" if first.month == 1 else f"{first:%b}") for first in self._months()]

    def _months(self) -> list[date]:
        """First days of months, or of every second, third, sixth one where there are many."""
        from_month = 12 * self.first.year + self.first.month - (self.first.day == 1)
        to_month = 12 * self.last.year + self.last.month
        firsts = [date(month // 12, month % 12 + 1, 1) for month in range(from_month, to_month)]
        step = next((step for step in (1, 2, 3, 6) if len(firsts) <= MOST_MONTHS * step), 12)
        return [first for first in firsts if (first.month - 1) % step == 0]
