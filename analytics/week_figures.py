"""What did each client do in each week?

By the planned week: sessions by status, turnout, completion (mean set completion over due sessions but told), dose
(ratio of sums). By the week performed, over all logs, second ones and extra sessions too: tonnage, minutes, density
(tonnage of logs with details and minutes / those minutes), session load (effort x minutes). NaN is unknown, never zero:
no log with details -> no tonnage, no density; no minutes -> no density; nothing due -> no turnout, completion, dose.
"""

from __future__ import annotations

import numpy as np

from analytics.frame_schema import Record, Status
from analytics.session_status import is_attended
from analytics.set_runs import SetRuns
from analytics.sorted_keys import Floats, Ints, dense_codes, float_sum_by, sum_by
from analytics.table import Table
from analytics.training_weeks import week_start_day

_COUNTED = {
    "done": Status.DONE,
    "partial": Status.PARTIAL,
    "told": Status.TOLD,
    "missed": Status.MISSED,
    "overdue": Status.OVERDUE,
    "awaited": Status.AWAITED,
    "not_due": Status.NOT_DUE,
}
GRAMS_PER_KILOGRAM = 1000


def week_figures(
    record: Record,
    outcomes: Table,
    statuses: Table,
    log_figures: Table,
) -> Table:
    """A row for each client and ISO week up to the as-of week that has a planned session or a log, in that order.

    `log_figures` is what `tally_logs` gave. Columns: client_row, week_start_day, due and the seven counts, turnout,
    completion, dose, dose_uncapped, tonnage_kg, body_mass_tonnage_kg, minutes, density_kg_min, session_load, and the
    sums behind the ratios: counted_sets, planned_sets, planned_g, dosed_g, done_g, timed_g, timed_minutes,
    timed_planned_g, timed_planned_minutes.
    """
    weeks, session_week, log_week = _weeks(record, outcomes, log_figures)
    count = weeks["client_row"].size
    planned = figures_of_planned(outcomes, statuses, log_figures, session_week, count)
    return Table(weeks | planned | figures_of_performed(log_figures, log_week, count))


def _weeks(record: Record, outcomes: Table, log_figures: Table) -> tuple[dict[str, Ints], Ints, Ints]:
    """The rows of the answer, and for each session and log the row it belongs to (-1: after the as-of day)."""
    as_of = record.clients["as_of_day"]
    session_client, log_client = outcomes["client_row"], log_figures["client_row"]
    session_start = outcomes["week_start_day"]
    log_start = week_start_day(log_figures["performed_day"])
    is_past = np.concatenate(
        [
            session_start <= week_start_day(as_of[session_client]),
            log_figures["performed_day"] <= as_of[log_client],
        ]
    )
    client = np.concatenate([session_client, log_client])[is_past]
    start = np.concatenate([session_start, log_start])[is_past]
    codes, count = dense_codes(client, start)
    row = np.full(is_past.size, -1, dtype=np.int64)
    row[is_past] = codes
    client_of_row, start_of_row = np.zeros(count, dtype=np.int64), np.zeros(count, dtype=np.int64)
    client_of_row[codes], start_of_row[codes] = client, start
    weeks = {"client_row": client_of_row, "week_start_day": start_of_row}
    return weeks, row[: session_client.size], row[session_client.size :]


def figures_of_planned(
    outcomes: Table, statuses: Table, log_figures: Table, week: Ints, count: int
) -> dict[str, np.ndarray]:
    """What follows from planned sessions, summed over those of each week, or of whatever `week` numbers (-1: none)."""
    status, is_due = statuses["status"], statuses["is_due"]
    figures: dict[str, np.ndarray] = {"due": _count(week[is_due], count)}
    figures |= {name: _count(week[status == code], count) for name, code in _COUNTED.items()}
    attended = _count(week[is_attended(status)], count)
    is_measured = is_due & (status != Status.TOLD)
    is_attended_with_details = is_measured & is_attended(status)
    of_measured = np.where(is_measured, week, -1)
    of_attended = np.where(is_attended_with_details, week, -1)
    completion = float_sum_by(of_measured, statuses["set_completion"], count)
    sums = {
        "planned_sets": sum_by(of_measured, outcomes["planned_sets"], count),
        "counted_sets": sum_by(of_attended, outcomes["counted_sets"], count),
        "planned_g": sum_by(of_measured, outcomes["planned_g"], count),
        "dosed_g": sum_by(of_attended, outcomes["dosed_g"], count),
        "done_g": sum_by(of_attended, outcomes["done_g"], count),
    }
    figures["turnout"] = ratio(attended, figures["due"])
    figures["completion"] = ratio(completion, _count(week[is_measured], count))
    figures["dose"] = ratio(sums["dosed_g"], sums["planned_g"])
    figures["dose_uncapped"] = ratio(sums["done_g"], sums["planned_g"])
    timed = _timed_sums(log_figures, outcomes["log_row"][is_attended_with_details],
                        week[is_attended_with_details], count)
    return figures | sums | timed


def _timed_sums(log_figures: Table, log_row: Ints, week: Ints, count: int) -> dict[str, np.ndarray]:
    """Lifted and asked with their minutes, over sessions whose minutes and planned minutes are known."""
    logs = {
        name: log_figures[name][log_row]
        for name in ("minutes", "has_timed_plan", "tonnage_g", "planned_g", "planned_minutes")
    }
    minutes = logs["minutes"]
    is_compared = logs["has_timed_plan"] & ~np.isnan(minutes)
    compared = np.where(is_compared, week, -1)
    return {
        "timed_g": sum_by(compared, logs["tonnage_g"], count),
        "timed_minutes": float_sum_by(compared, minutes, count),
        "timed_planned_g": sum_by(compared, logs["planned_g"], count),
        "timed_planned_minutes": float_sum_by(compared, logs["planned_minutes"], count),
    }


def figures_of_performed(log_figures: Table, week: Ints, count: int) -> dict[str, np.ndarray]:
    """What follows from logs, summed over those of each week, or of whatever `week` numbers (-1: none)."""
    minutes, effort = log_figures["minutes"], log_figures["effort"]
    has_details, has_minutes = log_figures["has_details"], ~np.isnan(minutes)
    is_timed = has_details & has_minutes
    has_load = has_minutes & ~np.isnan(effort)
    detailed = _count(week[has_details], count) > 0
    timed_g = sum_by(_where(week, is_timed), log_figures["tonnage_g"], count)
    timed_minutes = float_sum_by(_where(week, is_timed), minutes, count)
    tonnage_g = sum_by(_where(week, has_details), log_figures["tonnage_g"], count)
    body_g = sum_by(_where(week, has_details), log_figures["body_tonnage_g"], count)
    return {
        "tonnage_kg": np.where(detailed, tonnage_g / GRAMS_PER_KILOGRAM, np.nan),
        "body_mass_tonnage_kg": np.where(body_g > 0, body_g / GRAMS_PER_KILOGRAM, np.nan),
        "minutes": _sum_or_unknown(week, has_minutes, minutes, count),
        "density_kg_min": ratio(timed_g / GRAMS_PER_KILOGRAM, timed_minutes),
        "session_load": _sum_or_unknown(week, has_load, effort * minutes, count),
    }


def tally_logs(
    record: Record, matched_sets: Table, runs: SetRuns, outcomes: Table, planned: Table
) -> Table:
    """One row a log, in the order given: client_row, performed_day, has_details, minutes, effort, working_sets,
    tonnage_g, body_tonnage_g, and of its planned session, where it is that session's log: planned_g, planned_minutes,
    has_timed_plan (both are known). `planned` is what `planned_session_figures` gave.
    """
    logs = record.session_logs
    count = len(logs)
    session_of_log = np.full(count, -1, dtype=np.int64)
    has_log = outcomes["log_row"] >= 0
    session_of_log[outcomes["log_row"][has_log]] = np.flatnonzero(has_log)
    is_planned = session_of_log >= 0
    planned_g = np.zeros(count, dtype=np.int64)
    planned_minutes = np.full(count, np.nan)
    if len(planned):
        planned_g[is_planned] = planned["tonnage_g"][session_of_log[is_planned]]
        planned_minutes[is_planned] = planned["minutes"][session_of_log[is_planned]]
    return Table(
        {
            "client_row": record.client_row_of_log,
            "performed_day": logs["performed_day"],
            "has_details": logs["has_details"],
            "minutes": logs["minutes"],
            "effort": logs["effort"],
            "working_sets": sum_by(runs.log_row, runs.lengths, count),
            "tonnage_g": sum_by(runs.log_row, runs.sums(matched_sets["tonnage_g"]), count),
            "body_tonnage_g": sum_by(runs.log_row, runs.sums(matched_sets["body_tonnage_g"]), count),
            "planned_g": planned_g,
            "planned_minutes": planned_minutes,
            "has_timed_plan": (planned_g > 0) & ~np.isnan(planned_minutes),
        },
    )


def ratio(parts: np.ndarray, wholes: np.ndarray) -> Floats:
    """parts / wholes; NaN where there is no whole."""
    return np.divide(parts, wholes, out=np.full(np.shape(wholes), np.nan), where=np.asarray(wholes) > 0)


def _where(week: Ints, holds: np.ndarray) -> Ints:
    return np.where(holds, week, -1)


def _count(week: Ints, count: int) -> Ints:
    return np.bincount(week[week >= 0], minlength=count).astype(np.int64)


def _sum_or_unknown(week: Ints, is_known: np.ndarray, amounts: Floats, count: int) -> Floats:
    known = _count(week[is_known], count)
    return np.where(known > 0, float_sum_by(_where(week, is_known), np.nan_to_num(amounts), count), np.nan)
