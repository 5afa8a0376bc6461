"""`turnout`: the first that holds of silent, quiet, not_started, week_gone, early; never while D lies in a pause."""

from __future__ import annotations

from datetime import date, timedelta

from tests.plain_twin.client_day import ClientDay
from tests.plain_twin.finding import Finding
from tests.plain_twin.statuses import NOT_ATTENDED, SessionState


def find_turnout(at: ClientDay) -> list[Finding]:
    if at.client.is_paused_on(at.day):
        return []
    due = [state for state in at.states if state.is_due]
    if not at.links:
        return [Finding("turnout", "not_started", "act")] if has_not_started(at.day, due) else []
    last_log_on = max(link.log.performed_on for link in at.links)
    if any(last_log_on < state.session.suggested_on <= at.day for state in due):
        quiet_days = not_paused_days_since(at, last_log_on)
        if quiet_days >= 28:
            return [Finding("turnout", "silent", "act")]
        if quiet_days >= 14:
            return [Finding("turnout", "quiet", "act")]
    if last_ones_not_attended(due, 3):
        return [Finding("turnout", "week_gone", "act")]
    if due and (at.day - due[0].session.suggested_on).days < 28 and last_ones_not_attended(due, 2):
        return [Finding("turnout", "early", "watch")]
    return []


def has_not_started(day: date, due: list[SessionState]) -> bool:
    """Five days after the first due session's suggested day."""
    return bool(due) and day >= due[0].session.suggested_on + timedelta(days=5)


def not_paused_days_since(at: ClientDay, last_log_on: date) -> int:
    days = [last_log_on + timedelta(days=count) for count in range(1, (at.day - last_log_on).days + 1)]
    return sum(not at.client.is_paused_on(day) for day in days)


def last_ones_not_attended(due: list[SessionState], count: int) -> bool:
    last = due[-count:]
    return len(last) == count and all(state.status in NOT_ATTENDED for state in last)
