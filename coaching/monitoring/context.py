"""What sentences and evidence need to know besides figures: the names behind ids, and rows by client."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any

import numpy as np

from analytics.assessment import Assessment
from analytics.frame_schema import Standing
from analytics.training_weeks import to_date
from coaching.monitoring.plain_words import mass_text
from roster.blocks.models import Exercise, PlannedSession
from roster.people.models import Client


@dataclass(frozen=True)
class FindingContext:
    """An assessment with names; built once for all findings, with a fixed number of queries."""

    assessment: Assessment
    # The region of a log's pain as it was written, by the log's id.
    regions: dict[int, str]
    # Of the clients with findings: id -> unit; and of everything their findings name.
    units: dict[int, str]
    exercise_names: dict[int, str]
    session_labels: dict[int, tuple[str, int]]

    @cached_property
    def sets_of_planned_row(self) -> dict[int, list[tuple[int, int]]]:
        """(reps, load code) of the working sets that count for each planned exercise, in order."""
        history = self.assessment.history
        matched = history.matched_sets
        is_first = history.links["standing"].to_numpy()[matched["log_row"].to_numpy()] == Standing.FIRST
        wanted = is_first & np.isin(matched["planned_row"].to_numpy(), self._planned_rows_of_findings())
        found: dict[int, list[tuple[int, int]]] = {}
        for row, reps, load in zip(*(matched[name].to_numpy()[wanted].tolist()
                                     for name in ("planned_row", "reps", "load_code")), strict=True):
            found.setdefault(row, []).append((reps, load))
        return found

    def _planned_rows_of_findings(self) -> np.ndarray:
        history = self.assessment.history
        clients = np.unique(self.assessment.findings["client_row"].to_numpy())
        of_clients = np.isin(history.exposures["client_row"].to_numpy(), clients)
        return history.exposures["planned_row"].to_numpy()[of_clients]

    @cached_property
    def _exposure_rows(self) -> dict[tuple[int, int], list[int]]:
        """Rows of history.exposures by client row and exercise, in order."""
        exposures = self.assessment.history.exposures
        clients = np.unique(self.assessment.findings["client_row"].to_numpy())
        rows = np.flatnonzero(np.isin(exposures["client_row"].to_numpy(), clients))
        found: dict[tuple[int, int], list[int]] = {}
        for row, client, exercise in zip(rows.tolist(), exposures["client_row"].to_numpy()[rows].tolist(),
                                         exposures["exercise_id"].to_numpy()[rows].tolist(), strict=True):
            found.setdefault((client, exercise), []).append(row)
        return found

    def exposures_until(self, client_row: int, exercise_id: int, day: int) -> list[dict[str, Any]]:
        """The client's exposures of an exercise up to a day, oldest first, as plain rows."""
        rows = [self._exposure(row) for row in self._exposure_rows.get((client_row, exercise_id), [])]
        return [row for row in rows if row["performed_day"] <= day]

    @cached_property
    def _exposure_columns(self) -> dict[str, np.ndarray]:
        history = self.assessment.history
        planned_row = history.exposures["planned_row"].to_numpy()
        of_exposures = ("planned_row", "performed_day", "is_met", "reason", "landing", "sets_met", "last_reps_over")
        of_planned = ("session_id", "sets", "reps", "load_code", "target_code", "changed", "rest_s")
        columns = {name: history.exposures[name].to_numpy() for name in of_exposures}
        planned = history.record.planned_exercises
        return columns | {name: planned[name].to_numpy()[planned_row] for name in of_planned}

    def _exposure(self, row: int) -> dict[str, Any]:
        found: dict[str, Any] = {name: column[row].item() for name, column in self._exposure_columns.items()}
        found["rest_s"] = None if found["rest_s"] != found["rest_s"] else found["rest_s"]
        found["done"] = self.sets_of_planned_row.get(found["planned_row"], [])
        return found

    def unit_of(self, client_row: int) -> str:
        return self.units[int(self.assessment.history.record.clients["client_id"].to_numpy()[client_row])]

    def load_text(self, load_code: int, client_row: int) -> str:
        """A prescribed load as words; nothing for body weight and bands, which a name would not tell apart."""
        return mass_text(load_code, self.unit_of(client_row)) if load_code >= 0 else ""

    def session_text(self, session_id: int) -> str:
        label, week = self.session_labels[session_id]
        return f"{label} · week {week}" if label else f"week {week}"

    def region_of_report(self, row: int) -> str:
        """The region that a report (a row of PainReports) names; empty where it names none."""
        return self.regions.get(int(self.assessment.rules.pain_reports.log_id[row]), "")

    def as_of(self, client_row: int) -> date:
        return to_date(self.assessment.history.record.clients["as_of_day"].to_numpy()[client_row])


def build_context(assessment: Assessment, regions: dict[int, str]) -> FindingContext:
    history = assessment.history
    client_rows = np.unique(assessment.findings["client_row"].to_numpy())
    client_ids = history.record.clients["client_id"].to_numpy()[client_rows].tolist()
    sessions = history.outcomes
    of_clients = np.isin(sessions["client_row"].to_numpy(), client_rows)
    exercise_ids = set(history.exposures["exercise_id"].to_numpy().tolist()) if client_ids else set()
    labels = PlannedSession.objects.filter(block__client_id__in=client_ids, block__published_at__isnull=False)
    return FindingContext(
        assessment=assessment,
        regions=regions,
        units=dict(Client.objects.filter(pk__in=client_ids).values_list("pk", "unit")),
        exercise_names=dict(Exercise.objects.filter(pk__in=exercise_ids).values_list("pk", "name")),
        session_labels={pk: (label, week) for pk, label, week in labels.values_list("pk", "label", "week")}
        if of_clients.any() else {},
    )
