"""Findings about what is left out, cut short, or about to end: skips_it, cut_short, plan_runs_out."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction

from tests.plain_twin.client_day import ClientDay
from tests.plain_twin.finding import Finding
from tests.plain_twin.iso_weeks import monday_of
from tests.plain_twin.statuses import SessionState


def find_skips_it(at: ClientDay, exercise: str) -> list[Finding]:
    """`not_logged` in three of its last four exposures, or in all of three."""
    last_four = at.exposures_of(exercise)[-4:]
    not_logged = sum(exposure.reason == "not_logged" for exposure in last_four)
    return [Finding("skips_it", exercise, "watch")] if at.is_live(exercise) and not_logged >= 3 else []


def find_cut_short(at: ClientDay) -> list[Finding]:
    """Three of the last four linked sessions partial, or 30 % over the minutes the client has."""
    linked = [state for state in at.states if state.log is not None]
    linked.sort(key=lambda state: (state.log.performed_on, state.session.suggested_on))
    last_four = linked[-4:]
    cut = sum(is_cut_or_too_long(state, at.client.minutes) for state in last_four)
    return [Finding("cut_short", "", "watch")] if len(last_four) == 4 and cut >= 3 else []


def is_cut_or_too_long(state: SessionState, minutes_the_client_has: int | None) -> bool:
    if state.status == "partial":
        return True
    if minutes_the_client_has is None or state.log.minutes is None:
        return False
    return state.log.minutes >= Fraction(130, 100) * minutes_the_client_has


def find_plan_runs_out(at: ClientDay) -> list[Finding]:
    """Not paused, and D is the Thursday or later of the last week with a planned session."""
    if not at.states or at.client.is_paused_on(at.day):
        return []
    last_monday = max(monday_of(state.session.suggested_on) for state in at.states)
    has_come = at.day >= last_monday + timedelta(days=3)
    return [Finding("plan_runs_out", "", "act")] if has_come else []
