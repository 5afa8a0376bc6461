"""Which way somebody is going, in words: completion, dose and density over the last due weeks."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from coaching.desk.evidence import UNKNOWN
from coaching.monitoring.plain_words import share_text

if TYPE_CHECKING:
    from coaching.monitoring.client_trends import ClientTrend

NAMES = {
    "completion": "Sets done of sets asked",
    "dose": "Share of the plan done",
    "density": "Density against the stage's plan",
}


@dataclass(frozen=True, slots=True)
class TrendLine:
    """One figure: its level over a month and a quarter, and where it is going."""

    name: str
    month: str
    quarter: str
    way: str


def trend_lines(trends: Iterable[ClientTrend]) -> list[TrendLine]:
    """Figures of which nothing is known are left out."""
    by_figure: dict[str, dict[int, ClientTrend]] = {}
    for trend in trends:
        by_figure.setdefault(trend.figure, {})[trend.window_weeks] = trend
    lines = (_line(figure, windows) for figure, windows in by_figure.items())
    return [line for line in lines if line]


def _line(figure: str, windows: dict[int, ClientTrend]) -> TrendLine | None:
    short, long = windows[min(windows)], windows[max(windows)]
    if short.level is None and long.level is None:
        return None
    return TrendLine(NAMES[figure], _level(short), _level(long), _way(long))


def _level(trend: ClientTrend) -> str:
    return share_text(trend.level) or UNKNOWN


def _way(trend: ClientTrend) -> str:
    """Such as "falling, about 3 points a week"; a slope is told only where its interval is clear of zero."""
    if trend.verdict not in ("rising", "falling") or trend.trend is None:
        return trend.verdict
    points = abs(100 * trend.trend)
    amount = f"{points:.0f} points" if points >= 1.5 else "1 point" if points >= 0.75 else "less than a point"
    return f"{trend.verdict}, about {amount} a week".replace("about less", "less")
