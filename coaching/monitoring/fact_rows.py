"""An assessment as rows of the fact tables, ready to be stored, compared or shown."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable
from datetime import date
from functools import lru_cache
from typing import Any

import numpy as np
import pandas as pd

from analytics.assessment import Assessment
from analytics.frame_schema import Reason, Standing, Status
from analytics.landings import NO_LANDING
from analytics.training_weeks import DAYS_IN_WEEK, to_date, week_start_day
from coaching.monitoring import models
from coaching.monitoring.models import ClientState, ExposureFact, LogFact, SessionFact, WeekFact

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
WEEK_COUNTS = ["due", "done", "partial", "told", "missed", "overdue", "awaited", "not_due"]
WEEK_FIGURES = [
    "turnout", "completion", "tonnage_kg", "body_mass_tonnage_kg", "dose", "dose_uncapped", "minutes",
    "density_kg_min", "session_load",
]
# Longer than any set list that a page would show whole.
_REPS_SHOWN = 20

to_date_cached: Callable[[int], date] = lru_cache(maxsize=20_000)(to_date)


def session_rows(assessment: Assessment) -> list[SessionFact]:
    history, statuses = assessment.history, assessment.statuses
    outcomes, planned = history.outcomes, history.planned_sessions
    has_log = statuses["performed_day"].to_numpy() >= 0
    counted = np.where(has_log, outcomes["counted_sets"].to_numpy(), 0)
    columns = (
        statuses["session_id"], _client_ids(assessment, outcomes["client_row"]), outcomes["week_start_day"],
        statuses["status"], _nullable(statuses["set_completion"]), statuses["is_done_later"],
        _log_ids(assessment, np.where(has_log, outcomes["log_row"].to_numpy(), -1)), statuses["performed_day"],
        counted, outcomes["planned_sets"], planned["tonnage_g"], _nullable(planned["minutes"]),
    )
    return [
        SessionFact(
            planned_session_id=session_id, client_id=client_id, week_start=to_date_cached(week),
            status=STATUSES[status], set_completion=completion, done_later=later, session_log_id=log_id,
            performed_on=to_date_cached(day) if log_id is not None else None,
            counted_sets=sets, planned_sets=planned_sets, planned_tonnage_g=tonnage_g, planned_minutes=minutes,
        )
        for (session_id, client_id, week, status, completion, later, log_id, day, sets, planned_sets, tonnage_g,
             minutes) in _rows(columns)
    ]


def log_rows(assessment: Assessment) -> list[LogFact]:
    """Logs performed up to the as-of day."""
    history = assessment.history
    figures, links = history.log_figures, history.links
    as_of = history.record.clients["as_of_day"].to_numpy()[figures["client_row"].to_numpy()]
    past = np.flatnonzero(figures["performed_day"].to_numpy() <= as_of)
    figures, links = figures.iloc[past], links.iloc[past]
    columns = (
        links["log_id"], _client_ids(assessment, figures["client_row"]), figures["performed_day"],
        [None if pk < 0 else pk for pk in links["session_id"].tolist()], links["standing"],
        figures["working_sets"], figures["tonnage_g"], figures["has_details"],
    )
    return [
        LogFact(
            session_log_id=log_id, client_id=client_id, performed_on=to_date_cached(day), planned_session_id=session_id,
            standing=STANDINGS[standing], working_sets=sets, tonnage_g=tonnage_g if has_details else None,
        )
        for log_id, client_id, day, session_id, standing, sets, tonnage_g, has_details in _rows(columns)
    ]


def week_rows(assessment: Assessment) -> list[WeekFact]:
    weeks = assessment.weeks
    columns = (
        _client_ids(assessment, weeks["client_row"]), weeks["week_start_day"],
        *(weeks[name] for name in WEEK_COUNTS), *(_nullable(weeks[name]) for name in WEEK_FIGURES),
        weeks["counted_sets"], weeks["planned_sets"], weeks["planned_g"], weeks["dosed_g"], weeks["timed_g"],
        weeks["timed_minutes"], weeks["timed_planned_g"], weeks["timed_planned_minutes"],
    )
    names = [
        *WEEK_COUNTS, *WEEK_FIGURES, "counted_sets", "planned_sets", "planned_tonnage_g", "dosed_tonnage_g",
        "timed_tonnage_g", "timed_minutes", "timed_planned_tonnage_g", "timed_planned_minutes",
    ]
    return [
        WeekFact(client_id=row[0], week_start=to_date_cached(row[1]), **dict(zip(names, row[2:], strict=True)))
        for row in _rows(columns)
    ]


def exposure_rows(assessment: Assessment) -> list[ExposureFact]:
    exposures = assessment.exposures
    reps_done = _reps_done(assessment)
    client_row = exposures["client_row"].to_numpy()
    ordinal = np.arange(client_row.size) - np.searchsorted(client_row, client_row, side="left")
    columns = (
        exposures["planned_id"], _client_ids(assessment, exposures["client_row"]), exposures["exercise_id"],
        _log_ids(assessment, exposures["log_row"].to_numpy()), exposures["performed_day"], ordinal,
        exposures["working_sets"], exposures["sets_met"], exposures["is_met"], exposures["reason"],
        exposures["planned_row"], exposures["top_load_code"], _nullable(exposures["best_e1rm_kg"]),
        exposures["tonnage_g"], exposures["landing"],
    )
    return [
        ExposureFact(
            planned_exercise_id=planned_id, client_id=client_id, exercise_id=exercise_id, session_log_id=log_id,
            performed_on=to_date_cached(day), ordinal=place, working_sets=sets, sets_met=sets_met, met=is_met,
            reason=REASONS[reason], reps_done="-".join(map(str, reps_done[row][:_REPS_SHOWN])),
            top_load_g=top if top >= 0 and sets else None,
            best_e1rm_kg=e1rm, tonnage_g=tonnage_g, landing=None if landing == NO_LANDING else landing,
        )
        for (planned_id, client_id, exercise_id, log_id, day, place, sets, sets_met, is_met, reason, row, top, e1rm,
             tonnage_g, landing) in _rows(columns)
    ]


def state_rows(assessment: Assessment) -> list[ClientState]:
    """One row a client: the last log, and turnout over the 4 and 12 weeks that end with the as-of week."""
    clients = assessment.history.record.clients
    as_of = clients["as_of_day"].to_numpy()
    last_log = _last_log_days(assessment, as_of)
    counts = {weeks: _attended_and_due(assessment, as_of, weeks) for weeks in (4, 12)}
    columns = (clients["client_id"], as_of, last_log, *counts[4], *counts[12])
    return [
        ClientState(
            client_id=client_id, as_of=to_date_cached(day), last_log_on=None if last is None else to_date_cached(last),
            attended_4_weeks=attended_4, due_4_weeks=due_4, attended_12_weeks=attended_12, due_12_weeks=due_12,
        )
        for client_id, day, last, attended_4, due_4, attended_12, due_12 in _rows(columns)
    ]


def _last_log_days(assessment: Assessment, as_of: np.ndarray) -> list[int | None]:
    figures = assessment.history.log_figures
    client_row, day = figures["client_row"].to_numpy(), figures["performed_day"].to_numpy()
    last = np.full(as_of.size, np.iinfo(np.int64).min)
    past = day <= as_of[client_row]
    np.maximum.at(last, client_row[past], day[past])
    return [None if day == np.iinfo(np.int64).min else day for day in last.tolist()]


def _attended_and_due(assessment: Assessment, as_of: np.ndarray, weeks: int) -> tuple[np.ndarray, np.ndarray]:
    figures = assessment.weeks
    client_row = figures["client_row"].to_numpy()
    since = week_start_day(as_of) - DAYS_IN_WEEK * (weeks - 1)
    recent = figures["week_start_day"].to_numpy() >= since[client_row]
    attended = figures["done"] + figures["partial"] + figures["told"]
    sums = [
        np.bincount(client_row[recent], weights=amount.to_numpy()[recent], minlength=as_of.size).astype(np.int64)
        for amount in (attended, figures["due"])
    ]
    return sums[0], sums[1]


def _reps_done(assessment: Assessment) -> dict[int, list[int]]:
    """The reps of the working sets that count for each planned exercise (by its row), in order."""
    history = assessment.history
    matched = history.matched_sets
    is_first = history.links["standing"].to_numpy()[matched["log_row"].to_numpy()] == Standing.FIRST
    reps: dict[int, list[int]] = defaultdict(list)
    for row, count in zip(matched["planned_row"].to_numpy()[is_first].tolist(),
                          matched["reps"].to_numpy()[is_first].tolist(), strict=True):
        reps[row].append(count)
    return reps


def _client_ids(assessment: Assessment, client_row: pd.Series) -> np.ndarray:
    return assessment.history.record.clients["client_id"].to_numpy()[client_row.to_numpy()]


def _log_ids(assessment: Assessment, log_row: np.ndarray) -> list[int | None]:
    log_ids = assessment.history.record.session_logs["log_id"].to_numpy()
    return [None if row < 0 else int(log_ids[row]) for row in log_row.tolist()]


def _nullable(numbers: pd.Series) -> list[float | None]:
    return [None if number != number else number for number in numbers.tolist()]


def _rows(columns: Iterable[Any]) -> Iterable[tuple[Any, ...]]:
    lists = [column if isinstance(column, list) else column.tolist() for column in columns]
    return zip(*lists, strict=True)
