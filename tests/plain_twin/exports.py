"""The four tables that leave the house, as lists of rows: Python numbers, dates, None for empty."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from tests.plain_twin.client_day import ClientDay, look_at
from tests.plain_twin.findings import findings_on, opened_on
from tests.plain_twin.iso_weeks import week_name
from tests.plain_twin.mass import kilograms
from tests.plain_twin.record import Record
from tests.plain_twin.weeks import week_figures

Rows = list[dict]


def export_sessions(record: Record, as_of: date) -> Rows:
    return [
        {
            "client": at.client.key,
            "block": state.session.block.label,
            "week": state.session.week,
            "session": state.session.label,
            "iso_week": week_name(state.session.suggested_on),
            "suggested_on": state.session.suggested_on,
            "status": state.status,
            "set_completion": _number(state.set_completion),
            "done_later": state.is_done_later,
            "performed_on": state.log.performed_on if state.log else None,
        }
        for at in _clients(record, as_of)
        for state in at.states
    ]


def export_weeks(record: Record, as_of: date) -> Rows:
    return [
        {"client": at.client.key, "iso_week": week, **{name: _number(value) for name, value in figures.items()}}
        for at in _clients(record, as_of)
        for week, figures in week_figures(at).items()
    ]


def export_exposures(record: Record, as_of: date) -> Rows:
    return [
        {
            "client": at.client.key,
            "exercise": record.exercise_names[exposure.row.exercise],
            "block": exposure.row.session.block.label,
            "week": exposure.row.session.week,
            "session": exposure.row.session.label,
            "position": exposure.row.position,
            "performed_on": exposure.performed_on,
            "target_sets": exposure.row.sets,
            "target_reps": _target_reps(exposure.row.targets),
            "target_load_kg": _kilograms(exposure.row.load.grams),
            "sets_met": exposure.sets_met,
            "met": exposure.met,
            "reason": exposure.reason,
            "best_e1rm_kg": _number(exposure.best_e1rm_kg),
            "tonnage_kg": _kilograms(exposure.tonnage_g),
        }
        for at in _clients(record, as_of)
        for exposure in at.exposures
    ]


def export_flags(record: Record, as_of: date) -> Rows:
    return [
        {
            "client": client.key,
            "kind": finding.kind,
            "subject": record.exercise_names.get(finding.subject, finding.subject),
            "urgency": finding.urgency,
            "opened_on": opened_on(record, client, finding, as_of),
            # Words are the product's own.
            "sentence": None,
        }
        for client in record.clients
        for finding in findings_on(record, client, as_of)
    ]


def _clients(record: Record, as_of: date) -> Iterator[ClientDay]:
    return (look_at(client, as_of) for client in record.clients)


def _number(value: Fraction | float | None) -> float | int | None:
    return float(value) if isinstance(value, Fraction) else value


def _kilograms(grams: int | None) -> float | None:
    return None if grams is None else float(kilograms(grams))


def _target_reps(targets: list[int]) -> int | str:
    """One number where it holds for every set, else as the plan writes it: 12-10-8."""
    return targets[0] if len(set(targets)) == 1 else "-".join(map(str, targets))
