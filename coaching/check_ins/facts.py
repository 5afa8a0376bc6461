"""Everything that the sentences and questions of one pack are made from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from analytics.training_weeks import to_date, to_day
from coaching.check_ins.content import PackWeek, Period
from coaching.check_ins.spans import SpanOfClient
from roster.people.models import Client, Pause


@dataclass(frozen=True)
class PackFacts:
    client: Client
    period: Period
    # None where nothing was planned or done before.
    before: Period | None
    as_of: date
    now: SpanOfClient
    earlier: SpanOfClient | None
    weeks: tuple[PackWeek, ...]
    # Those that lie in the period or reach into it.
    pauses: tuple[Pause, ...]
    # Names of exercises, and the exercises in the order of the pack.
    names: Mapping[int, str]
    exercises: tuple[int, ...]

    @property
    def unit(self) -> str:
        return self.client.unit

    @property
    def is_over(self) -> bool:
        return self.as_of >= self.period.last

    def whole_weeks(self) -> list[Mapping[str, Any]]:
        """Figures of the weeks in which something was due and that lie in the period and before its day as a whole."""
        end = to_day(min(self.as_of, self.period.last)) - 6
        first = to_day(self.period.first)
        return [week for week in self.now.weeks if week["due"] and first <= week["week_start_day"] <= end]

    def weeks_without_a_session(self) -> list[date]:
        """Mondays of those in which nothing was logged."""
        return [to_date(week["week_start_day"]) for week in self.whole_weeks() if not week["logs"]]
