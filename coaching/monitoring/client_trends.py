"""Trends of one client from their stored week facts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from coaching.monitoring.models import WeekFact

_SUMS = {
    "counted_sets": "counted_sets", "planned_sets": "planned_sets", "dosed_g": "dosed_tonnage_g",
    "planned_g": "planned_tonnage_g", "timed_g": "timed_tonnage_g", "timed_minutes": "timed_minutes",
    "timed_planned_g": "timed_planned_tonnage_g", "timed_planned_minutes": "timed_planned_minutes", "due": "due",
}


@dataclass(frozen=True)
class ClientTrend:
    """`figure` is completion, dose or density; `trend` its change a week, None where too little is known."""

    figure: str
    window_weeks: int
    level: float | None
    trend: float | None
    verdict: str


def client_trends(weeks: Sequence[WeekFact]) -> list[ClientTrend]:
    """Completion, dose and density against the plan over the last 4 and 12 due weeks of one client."""
    import pandas as pd

    from analytics.training_weeks import to_day
    from analytics.trends import find_trends

    frame = pd.DataFrame(
        {
            "week_start_day": [to_day(fact.week_start) for fact in weeks],
            **{name: [getattr(fact, field) for fact in weeks] for name, field in _SUMS.items()},
        }
    )
    return [
        ClientTrend(row.figure, row.window_weeks, _known(row.level), _known(row.trend), str(row.verdict))
        for row in find_trends(frame).itertuples()
    ]


def _known(number: float) -> float | None:
    return None if number != number else float(number)
