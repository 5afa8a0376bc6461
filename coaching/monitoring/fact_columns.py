"""An assessment as the columns of the fact tables: for each field a list, as the database holds its values."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from datetime import date
from functools import lru_cache
from typing import Any

import numpy as np

from analytics.assessment import Assessment
from analytics.frame_schema import Reason, Standing, Status
from analytics.landings import NO_LANDING
from analytics.training_weeks import to_date
from coaching.monitoring import models
from coaching.monitoring.models import ExposureFact, LogFact

STATUSES = {
    Status.DONE: models.Status.DONE, Status.PARTIAL: models.Status.PARTIAL, Status.TOLD: models.Status.TOLD,
    Status.MISSED: models.Status.MISSED, Status.OVERDUE: models.Status.OVERDUE,
    Status.AWAITED: models.Status.AWAITED, Status.NOT_DUE: models.Status.NOT_DUE, Status.TO_COME: models.Status.TO_COME,
}
STANDINGS = {
    Standing.FIRST: LogFact.Standing.FIRST, Standing.SECOND: LogFact.Standing.SECOND,
    Standing.EXTRA: LogFact.Standing.EXTRA,
}
REASONS = {
    Reason.NONE: ExposureFact.Reason.NONE, Reason.NOT_LOGGED: ExposureFact.Reason.NOT_LOGGED,
    Reason.LOAD_BELOW: ExposureFact.Reason.LOAD_BELOW, Reason.SETS_SHORT: ExposureFact.Reason.SETS_SHORT,
    Reason.OTHER_LOAD: ExposureFact.Reason.OTHER_LOAD, Reason.REPS_SHORT: ExposureFact.Reason.REPS_SHORT,
    Reason.REST_OVER: ExposureFact.Reason.REST_OVER,
}
_WEEK_COUNTS = ("due", "done", "partial", "told", "missed", "overdue", "awaited", "not_due")
_WEEK_FIGURES = (
    "turnout", "completion", "tonnage_kg", "body_mass_tonnage_kg", "dose", "dose_uncapped", "minutes",
    "density_kg_min", "session_load",
)
_WEEK_SUMS = {
    "counted_sets": "counted_sets", "planned_sets": "planned_sets", "planned_tonnage_g": "planned_g",
    "dosed_tonnage_g": "dosed_g", "timed_tonnage_g": "timed_g", "timed_minutes": "timed_minutes",
    "timed_planned_tonnage_g": "timed_planned_g", "timed_planned_minutes": "timed_planned_minutes",
}
# Longer than any set list that a page would show whole.
_REPS_SHOWN = 20

Columns = dict[str, list[Any]]
to_date_cached: Callable[[int], date] = lru_cache(maxsize=20_000)(to_date)


def session_columns(assessment: Assessment) -> Columns:
    history, statuses = assessment.history, assessment.statuses
    outcomes, planned = history.outcomes, history.planned_sessions
    performed = statuses["performed_day"]
    has_log = performed >= 0
    return {
        "planned_session_id": statuses["session_id"].tolist(),
        "client_id": _client_ids(assessment, outcomes["client_row"]),
        "week_start": _dates(outcomes["week_start_day"]),
        "status": [STATUSES[status].value for status in statuses["status"].tolist()],
        "set_completion": _nullable(statuses["set_completion"]),
        "done_later": statuses["is_done_later"].tolist(),
        "session_log_id": _log_ids(assessment, np.where(has_log, outcomes["log_row"], -1)),
        "performed_on": [to_date_cached(day) if day >= 0 else None for day in performed.tolist()],
        "counted_sets": np.where(has_log, outcomes["counted_sets"], 0).tolist(),
        "planned_sets": outcomes["planned_sets"].tolist(),
        "planned_tonnage_g": planned["tonnage_g"].tolist(),
        "planned_minutes": _nullable(planned["minutes"]),
    }


def log_columns(assessment: Assessment) -> Columns:
    """Logs performed up to the as-of day."""
    history = assessment.history
    figures, links = history.log_figures, history.links
    as_of = history.record.clients["as_of_day"][figures["client_row"]]
    past = np.flatnonzero(figures["performed_day"] <= as_of)
    figures, links = figures.rows(past), links.rows(past)
    tonnage_g, has_details = figures["tonnage_g"].tolist(), figures["has_details"].tolist()
    return {
        "session_log_id": links["log_id"].tolist(),
        "client_id": _client_ids(assessment, figures["client_row"]),
        "performed_on": _dates(figures["performed_day"]),
        "planned_session_id": [None if pk < 0 else pk for pk in links["session_id"].tolist()],
        "standing": [STANDINGS[standing].value for standing in links["standing"].tolist()],
        "working_sets": figures["working_sets"].tolist(),
        "tonnage_g": [grams if details else None for grams, details in zip(tonnage_g, has_details, strict=True)],
    }


def week_columns(assessment: Assessment) -> Columns:
    weeks = assessment.weeks
    return {
        "client_id": _client_ids(assessment, weeks["client_row"]),
        "week_start": _dates(weeks["week_start_day"]),
        **{name: weeks[name].tolist() for name in _WEEK_COUNTS},
        **{name: _nullable(weeks[name]) for name in _WEEK_FIGURES},
        **{field: weeks[name].tolist() for field, name in _WEEK_SUMS.items()},
    }


def exposure_columns(assessment: Assessment) -> Columns:
    exposures, reps_done = assessment.exposures, _reps_done(assessment)
    client_row = exposures["client_row"]
    working_sets, top_load = exposures["working_sets"].tolist(), exposures["top_load_code"].tolist()
    return {
        "planned_exercise_id": exposures["planned_id"].tolist(),
        "client_id": _client_ids(assessment, exposures["client_row"]),
        "exercise_id": exposures["exercise_id"].tolist(),
        "session_log_id": _log_ids(assessment, exposures["log_row"]),
        "performed_on": _dates(exposures["performed_day"]),
        "ordinal": (np.arange(client_row.size) - np.searchsorted(client_row, client_row, side="left")).tolist(),
        "working_sets": working_sets,
        "sets_met": exposures["sets_met"].tolist(),
        "met": exposures["is_met"].tolist(),
        "reason": [REASONS[reason].value for reason in exposures["reason"].tolist()],
        "reps_done": ["-".join(map(str, reps_done[row][:_REPS_SHOWN])) for row in exposures["planned_row"].tolist()],
        "top_load_g": [
            load if load >= 0 and sets else None for load, sets in zip(top_load, working_sets, strict=True)
        ],
        "best_e1rm_kg": _nullable(exposures["best_e1rm_kg"]),
        "tonnage_g": exposures["tonnage_g"].tolist(),
        "landing": [None if landing == NO_LANDING else landing for landing in exposures["landing"].tolist()],
    }


def _reps_done(assessment: Assessment) -> dict[int, list[int]]:
    """The reps of the working sets that count for each planned exercise (by its row), in order."""
    history = assessment.history
    matched = history.matched_sets
    is_first = history.links["standing"][matched["log_row"]] == Standing.FIRST
    reps: dict[int, list[int]] = defaultdict(list)
    for row, count in zip(matched["planned_row"][is_first].tolist(),
                          matched["reps"][is_first].tolist(), strict=True):
        reps[row].append(count)
    return reps


def _client_ids(assessment: Assessment, client_row: np.ndarray) -> list[int]:
    return assessment.history.record.clients["client_id"][client_row].tolist()


def _log_ids(assessment: Assessment, log_row: np.ndarray) -> list[int | None]:
    log_ids = assessment.history.record.session_logs["log_id"].tolist()
    return [None if row < 0 else log_ids[row] for row in log_row.tolist()]


def _dates(days: np.ndarray) -> list[date]:
    return [to_date_cached(day) for day in days.tolist()]


def _nullable(numbers: np.ndarray) -> list[float | None]:
    return [None if number != number else number for number in numbers.tolist()]
