"""Turnout and the plan in words."""

from __future__ import annotations

from typing import Any

import numpy as np

from analytics.findings_schema import Turnout
from analytics.flag_thresholds import Thresholds
from analytics.frame_schema import Status
from analytics.session_outcomes import NEVER
from analytics.session_status import is_attended, is_due
from analytics.training_weeks import to_date
from coaching.monitoring.context import FindingContext
from coaching.monitoring.plain_words import count_text, counted, day_text, number_text

_SESSION_COLUMNS = ["Session", "Suggested", "What happened", "Sets"]
_STATUS_WORDS = {Status.DONE: "done", Status.PARTIAL: "partial", Status.TOLD: "told, no details",
                 Status.MISSED: "missed", Status.OVERDUE: "overdue"}
# How far back "before that" looks.
_BASELINE_SESSIONS = 24
_SHOWN_SESSIONS = 6


def turnout(context: FindingContext, finding: dict[str, int]) -> dict[str, Any]:
    subject, count = Turnout(finding["subject"]), finding["count"]
    thresholds = context.assessment.history.thresholds
    due = _due_rows(context, finding["client_row"])
    missed = _unattended_at_the_end(context, due)
    return {
        "sentence": _turnout_sentence(context, subject, count, due, missed),
        "rule": _turnout_rule(subject, thresholds),
        "clears": "The next session that is logged, or a pause that covers the missed ones.",
        "evidence_columns": _SESSION_COLUMNS,
        "evidence_rows": [_session_row(context, row) for row in due[-max(missed, _SHOWN_SESSIONS) :]],
        "options": [
            "Ring and ask how the week was, before anything about training.", "Enter a pause if life is in the way.",
        ],
    }


def _turnout_sentence(
    context: FindingContext, subject: Turnout, count: int, due: list[int], missed: int
) -> str:
    if subject in (Turnout.SILENT, Turnout.QUIET):
        since = _due_since_last_log(context, due)
        start = "Silent" if subject == Turnout.SILENT else "Quiet"
        return f"{start}: no log for {counted(count, 'day')} outside pauses; {counted(since, 'session')} due since."
    if subject == Turnout.NOT_STARTED:
        first = to_date(context.assessment.history.outcomes["suggested_day"][due[0]])
        return f"Not started: no log yet; the first session was for {day_text(first)}, {counted(count, 'day')} ago."
    if subject == Turnout.EARLY:
        return f"Early days: the last {count_text(count)} sessions missed, in the first four weeks."
    before = due[:-missed][-_BASELINE_SESSIONS:]
    attended = sum(1 for row in before if is_attended(_statuses(context)[row]))
    usual = f"; before that {attended} of {len(before)}" if before else ""
    start = "A week gone" if missed == count else "Gone"
    return f"{start}: the last {counted(count, 'session')} missed{usual}."


def _turnout_rule(subject: Turnout, thresholds: Thresholds) -> str:
    return {
        Turnout.SILENT: f"No log for {thresholds.silent_days} days outside pauses, with a session due since.",
        Turnout.QUIET: f"No log for {thresholds.quiet_days} days outside pauses, with a session due since.",
        Turnout.NOT_STARTED: f"No log {thresholds.not_started_days} days after the first due session's day.",
        Turnout.WEEK_GONE: (
            f"The last {count_text(thresholds.week_gone_sessions)} due sessions, or more, missed or overdue."
        ),
        Turnout.EARLY: (
            f"The last {count_text(thresholds.early_sessions)} due sessions missed or overdue, less than "
            f"{thresholds.early_days} days after the first due one."
        ),
    }[subject]


def cut_short(context: FindingContext, finding: dict[str, int]) -> dict[str, Any]:
    history = context.assessment.history
    thresholds = history.thresholds
    linked = context.assessment.rules.linked_sessions
    at = int(np.flatnonzero(linked.row == finding["row"])[0])
    client_rows = history.outcomes["client_row"][linked.row]
    first = max(int(np.searchsorted(client_rows, finding["client_row"])), at + 1 - thresholds.cut_short_of_sessions)
    rows = linked.row[first : at + 1].tolist()
    minutes = history.record.clients["minutes"][finding["client_row"]]
    has_time = f" The client has {number_text(minutes)} minutes." if minutes == minutes else ""
    return {
        "sentence": f"{finding['count']} of the last {len(rows)} sessions cut short or well over time.{has_time}",
        "rule": (
            f"{count_text(thresholds.cut_short_sessions).capitalize()} of the last {thresholds.cut_short_of_sessions} "
            f"logged sessions below {round(thresholds.done_from_completion * 100)} % of their sets, or "
            f"{round((thresholds.minutes_over - 1) * 100)} % over the minutes the client has."
        ),
        "clears": "Two sessions in time with nearly all their sets.",
        "evidence_columns": ["Session", "Performed", "Sets", "Minutes"],
        "evidence_rows": [_performed_row(context, row) for row in rows],
        "options": [
            "Take a set from each exercise, or an exercise from each session.", "Ask how long they really have.",
        ],
    }


def plan_runs_out(context: FindingContext, finding: dict[str, int]) -> dict[str, Any]:
    last = to_date(context.assessment.history.outcomes["suggested_day"][finding["row"]])
    as_of = context.as_of(finding["client_row"])
    is_of_this_week = as_of <= last or as_of.isocalendar()[:2] == last.isocalendar()[:2]
    when = "The plan runs out" if is_of_this_week else "The plan ran out"
    return {
        "sentence": f"{when}: the last planned session is for {day_text(last)}.",
        "rule": "From the Thursday of the last week with a planned session on.",
        "clears": "A further published block, or a pause.",
        "evidence_columns": ["Session", "Suggested"],
        "evidence_rows": [_session_row(context, finding["row"])[:2]],
        "options": ["Draft the next block."],
    }


def _statuses(context: FindingContext) -> np.ndarray:
    return context.assessment.statuses["status"]


def _due_rows(context: FindingContext, client_row: int) -> list[int]:
    """Rows of outcomes that are due for a client, by suggested day."""
    outcomes = context.assessment.history.outcomes
    rows = np.flatnonzero((outcomes["client_row"] == client_row) & is_due(_statuses(context)))
    suggested, ids = outcomes["suggested_day"][rows], outcomes["session_id"][rows]
    return rows[np.lexsort((ids, suggested))].tolist()


def _unattended_at_the_end(context: FindingContext, due: list[int]) -> int:
    count = 0
    for row in reversed(due):
        if is_attended(_statuses(context)[row]):
            break
        count += 1
    return count


def _due_since_last_log(context: FindingContext, due: list[int]) -> int:
    history = context.assessment.history
    client = history.outcomes["client_row"][due[0]]
    figures = history.log_figures
    as_of = history.record.clients["as_of_day"][client]
    days = figures["performed_day"][figures["client_row"] == client]
    last_log = days[days <= as_of].max()
    suggested = history.outcomes["suggested_day"][due]
    return int(((suggested > last_log) & (suggested <= as_of)).sum())


def _session_row(context: FindingContext, row: int) -> list[str]:
    outcomes = context.assessment.history.outcomes
    status = Status(_statuses(context)[row])
    done = int(outcomes["counted_sets"][row]) if is_attended(np.int64(status)) else 0
    return [
        context.session_text(int(outcomes["session_id"][row])),
        day_text(to_date(outcomes["suggested_day"][row])),
        _STATUS_WORDS.get(status, status.name.lower().replace("_", " ")),
        "–" if status == Status.TOLD else f"{done} of {outcomes['planned_sets'][row]}",
    ]


def _performed_row(context: FindingContext, row: int) -> list[str]:
    outcomes, logs = context.assessment.history.outcomes, context.assessment.history.record.session_logs
    minutes = logs["minutes"][outcomes["log_row"][row]]
    performed = outcomes["performed_day"][row]
    session, _, _, sets = _session_row(context, row)
    day = day_text(to_date(performed)) if performed != NEVER else "–"
    return [session, day, sets, number_text(minutes) if minutes == minutes else "–"]
