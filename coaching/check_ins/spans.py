"""What was computed about each client's span of days, as plain values by client."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

import numpy as np

from analytics.assessment import Assessment
from analytics.best_sets import find_best_sets
from analytics.load_steps import find_load_steps
from analytics.span_figures import Spans, session_shares, span_figures, span_weeks
from analytics.table import Table
from analytics.training_weeks import to_date, to_day
from coaching.check_ins.content import Period

# A span without a day: of whom there is nothing before.
_NOBODY = (1, 0)


@dataclass(frozen=True)
class SpanOfClient:
    """A number is None where it is unknown; see the functions of analytics for the names."""

    figures: Mapping[str, Any]
    weeks: Sequence[Mapping[str, Any]] = ()
    # completion, dose and density of each session.
    shares: Mapping[str, np.ndarray] = field(default_factory=dict)
    steps: Sequence[LoadStep] = ()
    # By exercise.
    best: Mapping[int, BestSet] = field(default_factory=dict)

    @property
    def is_empty(self) -> bool:
        """Nothing planned and nothing logged."""
        return not self.weeks


@dataclass(frozen=True, slots=True)
class LoadStep:
    exercise_id: int
    from_load_g: int
    to_load_g: int
    taken_on: date


@dataclass(frozen=True, slots=True)
class BestSet:
    exercise_id: int
    performed_on: date
    # None without a mass.
    load_g: int | None
    reps: int
    measure: int
    is_each_side: bool
    e1rm_kg: float | None


def spans_of(periods: Sequence[Period | None]) -> Spans:
    """One for each client, in the order of the assessment."""
    days = [(to_day(one.first), to_day(one.last)) if one else _NOBODY for one in periods]
    columns = np.array(days, dtype=np.int64).reshape(-1, 2)
    return Spans(columns[:, 0], columns[:, 1])


def read_spans(assessment: Assessment, spans: Spans) -> list[SpanOfClient]:
    """In the order of the assessment's clients."""
    weeks, shares = _by_client(span_weeks(assessment, spans)), session_shares(assessment, spans)
    steps, best = _load_steps(assessment, spans), _best_sets(assessment, spans)
    return [
        SpanOfClient(figures, weeks[row], _shares(shares, row), steps[row], best[row])
        for row, figures in enumerate(known_records(span_figures(assessment, spans)))
    ]


def known_records(table: Table) -> list[dict[str, Any]]:
    """Each row as plain values; None for what is unknown."""
    return [{name: None if value != value else value for name, value in row.items()} for row in table.records()]


def _by_client(table: Table) -> dict[int, list[dict[str, Any]]]:
    found: dict[int, list[dict[str, Any]]] = defaultdict(list)
    for row in known_records(table):
        found[row["client_row"]].append(row)
    return found


def _shares(shares: Table, client_row: int) -> dict[str, np.ndarray]:
    rows = shares["client_row"] == client_row
    return {name: shares[name][rows] for name in ("completion", "dose", "density")}


def _load_steps(assessment: Assessment, spans: Spans) -> dict[int, list[LoadStep]]:
    """In the order in which they were taken."""
    steps = find_load_steps(assessment.history)
    as_of = assessment.history.record.clients["as_of_day"][steps["client_row"]]
    is_inside = spans.hold(steps["client_row"], steps["taken_day"]) & (steps["taken_day"] <= as_of)
    found: dict[int, list[LoadStep]] = defaultdict(list)
    for row in sorted(steps.rows(is_inside).records(), key=lambda row: (row["taken_day"], row["exercise_id"])):
        step = LoadStep(row["exercise_id"], row["from_load_g"], row["to_load_g"], to_date(row["taken_day"]))
        found[row["client_row"]].append(step)
    return found


def _best_sets(assessment: Assessment, spans: Spans) -> dict[int, dict[int, BestSet]]:
    found: dict[int, dict[int, BestSet]] = defaultdict(dict)
    for row in known_records(find_best_sets(assessment, spans)):
        found[row["client_row"]][row["exercise_id"]] = BestSet(
            exercise_id=row["exercise_id"],
            performed_on=to_date(row["performed_day"]),
            load_g=row["load_g"] if row["load_g"] >= 0 else None,
            reps=row["reps"],
            measure=row["measure"],
            is_each_side=row["sides"] > 1,
            e1rm_kg=row["e1rm_kg"],
        )
    return found
