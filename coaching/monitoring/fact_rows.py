"""An assessment as rows of the fact tables, ready to be compared or shown; none of them is saved."""

from __future__ import annotations

from typing import Any, TypeVar

import numpy as np
from django.db import models

from analytics.assessment import Assessment
from analytics.session_outcomes import NEVER
from analytics.training_weeks import DAYS_IN_WEEK, week_start_day
from coaching.monitoring.fact_columns import (
    Columns,
    exposure_columns,
    log_columns,
    session_columns,
    to_date_cached,
    week_columns,
)
from coaching.monitoring.models import ClientState, ExposureFact, LogFact, SessionFact, WeekFact

Fact = TypeVar("Fact", bound=models.Model)


def session_rows(assessment: Assessment) -> list[SessionFact]:
    return rows_of(SessionFact, session_columns(assessment))


def log_rows(assessment: Assessment) -> list[LogFact]:
    """Logs performed up to the as-of day."""
    return rows_of(LogFact, log_columns(assessment))


def week_rows(assessment: Assessment) -> list[WeekFact]:
    return rows_of(WeekFact, week_columns(assessment))


def exposure_rows(assessment: Assessment) -> list[ExposureFact]:
    return rows_of(ExposureFact, exposure_columns(assessment))


def rows_of(model: type[Fact], columns: Columns) -> list[Fact]:
    return [model(**dict(zip(columns, values, strict=True))) for values in zip(*columns.values(), strict=True)]


def state_rows(assessment: Assessment) -> list[ClientState]:
    """One row a client: the last log, and turnout over the 4 and 12 weeks that end with the as-of week."""
    clients = assessment.history.record.clients
    as_of = clients["as_of_day"]
    counts: dict[str, Any] = {}
    for weeks in (4, 12):
        attended, due = _attended_and_due(assessment, as_of, weeks)
        counts |= {f"attended_{weeks}_weeks": attended.tolist(), f"due_{weeks}_weeks": due.tolist()}
    return rows_of(ClientState, {
        "client_id": clients["client_id"].tolist(),
        "as_of": [to_date_cached(day) for day in as_of.tolist()],
        "last_log_on": [None if day is None else to_date_cached(day) for day in _last_log_days(assessment, as_of)],
        **counts,
        "check_in_due_on": [None if day is None else to_date_cached(day) for day in _check_in_days(assessment, as_of)],
    })


def _check_in_days(assessment: Assessment, as_of: np.ndarray) -> list[int | None]:
    rows = np.arange(as_of.size, dtype=np.int64)
    due = assessment.rules.check_ins.due_on(rows, as_of)
    is_known = (due != NEVER) & assessment.history.record.clients["is_active"]
    return [day if known else None for day, known in zip(due.tolist(), is_known.tolist(), strict=True)]


def _last_log_days(assessment: Assessment, as_of: np.ndarray) -> list[int | None]:
    figures = assessment.history.log_figures
    client_row, day = figures["client_row"], figures["performed_day"]
    last = np.full(as_of.size, np.iinfo(np.int64).min)
    past = day <= as_of[client_row]
    np.maximum.at(last, client_row[past], day[past])
    return [None if day == np.iinfo(np.int64).min else day for day in last.tolist()]


def _attended_and_due(assessment: Assessment, as_of: np.ndarray, weeks: int) -> tuple[np.ndarray, np.ndarray]:
    figures = assessment.weeks
    client_row = figures["client_row"]
    since = week_start_day(as_of) - DAYS_IN_WEEK * (weeks - 1)
    recent = figures["week_start_day"] >= since[client_row]
    attended = figures["done"] + figures["partial"] + figures["told"]
    sums = [
        np.bincount(client_row[recent], weights=amount[recent], minlength=as_of.size).astype(np.int64)
        for amount in (attended, figures["due"])
    ]
    return sums[0], sums[1]
