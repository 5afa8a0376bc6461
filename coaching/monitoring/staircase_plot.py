"""Where the parts of a staircase stand in a drawing: days to the right, values up."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Self

from coaching.monitoring.chart_span import Span
from coaching.monitoring.staircases import Staircase
from coaching.monitoring.value_axis import ValueAxis


@dataclass(frozen=True, slots=True)
class Sheet:
    """How large a drawing is, and what is left free on each side of the lines for their words."""

    width: float
    height: float
    left: float
    right: float
    top: float
    bottom: float

    @property
    def floor(self) -> float:
        return self.height - self.bottom


@dataclass(frozen=True, slots=True)
class StaircasePlot:
    sheet: Sheet
    span: Span
    axis: ValueAxis

    @classmethod
    def of(cls, staircase: Staircase, sheet: Sheet, span: Span) -> Self:
        known = [value for _, value in staircase.steps if value is not None]
        return cls(sheet, span, ValueAxis.over([*known, *(dot.value for dot in staircase.dots)]))

    def x(self, day: date) -> float:
        # Room for a dot on the first and on the last day.
        share = ((day - self.span.first).days + 1) / ((self.span.last - self.span.first).days + 2)
        return self.sheet.left + share * (self.sheet.width - self.sheet.left - self.sheet.right)

    def y(self, value: float) -> float:
        share = (value - self.axis.low) / (self.axis.high - self.axis.low)
        return self.sheet.floor - share * (self.sheet.floor - self.sheet.top)

    def line(self, staircase: Staircase) -> str:
        """As a path: level until the next step, then straight up or down; nothing where it is broken."""
        path, is_begun = [], False
        for day, value in staircase.steps:
            if value is not None:
                x, y = self.x(day), self.y(value)
                path.append(f"H{x:.2f}V{y:.2f}" if is_begun else f"M{x:.2f} {y:.2f}")
            is_begun = value is not None
        return "".join(path)
