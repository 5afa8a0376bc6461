"""The figures of one client in one ISO week. Empty (None) means unknown, never zero.

By the week a session was planned in: the counts of statuses, turnout, completion, dose.
By the week a log was performed in: tonnage, minutes, density, session load.
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from tests.plain_twin.client_day import ClientDay
from tests.plain_twin.iso_weeks import monday_of, week_name
from tests.plain_twin.linking import LinkedLog
from tests.plain_twin.mass import kilograms
from tests.plain_twin.sets_of_rows import log_tonnage_g, row_tonnage_g, sets_of_rows
from tests.plain_twin.statuses import SessionState, turnout

COUNTED = ("done", "partial", "told", "missed", "overdue", "awaited", "not_due")


def week_figures(at: ClientDay) -> dict[str, dict]:
    """By week, such as 2026-W14: each up to D's that has a planned session or a log."""
    mondays = {monday_of(state.session.suggested_on) for state in at.states}
    mondays |= {monday_of(link.log.performed_on) for link in at.links}
    return {week_name(monday): figures_of_week(at, monday) for monday in sorted(mondays) if monday <= at.day}


def figures_of_week(at: ClientDay, monday: date) -> dict:
    planned_then = [state for state in at.states if monday_of(state.session.suggested_on) == monday]
    performed_then = [link for link in at.links if monday_of(link.log.performed_on) == monday]
    return {**planned_figures_of_week(planned_then), **performed_figures_of_week(at, performed_then)}


def planned_figures_of_week(states: list[SessionState]) -> dict:
    figures: dict = {status: sum(state.status == status for state in states) for status in COUNTED}
    figures["due"] = sum(state.is_due for state in states)
    figures["turnout"] = turnout(states)
    completions = [state.set_completion for state in states if is_judged(state)]
    figures["completion"] = sum(completions) / Fraction(len(completions)) if completions else None
    figures["dose"], figures["dose_uncapped"] = dose(states)
    return figures


def is_judged(state: SessionState) -> bool:
    """A due session but told."""
    return state.is_due and state.status != "told"


def dose(states: list[SessionState]) -> tuple[Fraction | None, Fraction | None]:
    """Sum of min(done, planned) / sum of planned tonnage over planned exercises with a kg load; and without the cap."""
    planned_g = capped_g = done_g = 0
    for state in states:
        if not is_judged(state):
            continue
        filled = sets_of_rows(state.session, state.log) if state.log is not None else {}
        for row in state.session.exercises:
            if row.load.grams is not None:
                row_done_g = row_tonnage_g(row, filled.get(row, []))
                planned_g += row.planned_tonnage_g
                done_g += row_done_g
                capped_g += min(row_done_g, row.planned_tonnage_g)
    if planned_g == 0:
        return None, None
    return Fraction(capped_g, planned_g), Fraction(done_g, planned_g)


def performed_figures_of_week(at: ClientDay, links: list[LinkedLog]) -> dict:
    detailed = [link for link in links if link.log.has_details]
    timed = [link for link in links if link.log.minutes is not None]
    rated = [link for link in timed if link.log.effort is not None]
    return {
        "tonnage_kg": _tonnage_kg(at, detailed) if detailed else None,
        "minutes": sum(link.log.minutes for link in timed) if timed else None,
        "density_kg_min": density_kg_min(at, links),
        "session_load": sum(link.log.effort * link.log.minutes for link in rated) if rated else None,
    }


def density_kg_min(at: ClientDay, links: list[LinkedLog]) -> Fraction | None:
    """Tonnage of the logs with details and recorded minutes / those minutes: a ratio of sums."""
    measured = [link for link in links if link.log.has_details and link.log.minutes is not None]
    if not measured:
        return None
    return _tonnage_kg(at, measured) / sum(link.log.minutes for link in measured)


def _tonnage_kg(at: ClientDay, links: list[LinkedLog]) -> Fraction:
    return kilograms(sum(log_tonnage_g(at.client, link.log, link.session) for link in links))
