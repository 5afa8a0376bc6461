"""What sentences and evidence need to know besides figures: the names behind ids, and rows by client."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any

import numpy as np

from analytics.assessment import Assessment
from analytics.findings_schema import is_of_exercise
from analytics.frame_schema import Standing
from analytics.sorted_keys import dense_codes
from analytics.training_weeks import to_date
from coaching.databases.compiled import CompiledRead
from coaching.monitoring.plain_words import mass_text
from roster.blocks.models import Exercise, PlannedSession
from roster.people.models import Client

# What is told of an exposure, and of the planned exercise behind it.
_OF_EXPOSURES = (
    "planned_row", "planned_id", "client_row", "exercise_id", "performed_day", "is_met", "reason", "landing",
    "sets_met", "last_reps_over",
)
_OF_PLAN = ("session_id", "sets", "reps", "load_code", "target_code", "changed", "rest_s", "measure", "sides")

_UNITS = CompiledRead(lambda ids: Client.objects.filter(pk__in=ids).order_by(), ["pk", "unit"])
_EXERCISE_NAMES = CompiledRead(lambda ids: Exercise.objects.filter(pk__in=ids).order_by(), ["pk", "name"])
_SESSION_LABELS = CompiledRead(
    lambda ids: PlannedSession.objects.filter(
        block__client_id__in=ids, block__published_at__isnull=False
    ).order_by(),
    ["pk", "label", "week"],
)


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

    def exposures_until(self, client_row: int, exercise_id: int, day: int) -> list[dict[str, Any]]:
        """The client's exposures of an exercise up to a day, oldest first, as plain rows."""
        rows = self._exposures.get((client_row, exercise_id), [])
        return [row for row in rows if row["performed_day"] <= day]

    @cached_property
    def _exposures(self) -> dict[tuple[int, int], list[dict[str, Any]]]:
        """The exposures that findings are about, by client row and exercise, in order."""
        exposures, planned = self.assessment.history.exposures, self.assessment.history.record.planned_exercises
        rows = self._rows_of_findings()
        planned_row = exposures["planned_row"][rows]
        columns = {name: exposures[name][rows].tolist() for name in _OF_EXPOSURES}
        columns |= {name: planned[name][planned_row].tolist() for name in _OF_PLAN}
        sets = self._sets_of(planned_row)
        found: dict[tuple[int, int], list[dict[str, Any]]] = defaultdict(list)
        for values in zip(*columns.values(), strict=True):
            row = dict(zip(columns, values, strict=True))
            row["done"] = sets[row["planned_row"]]
            row["rest_s"] = None if row["rest_s"] != row["rest_s"] else row["rest_s"]
            found[row["client_row"], row["exercise_id"]].append(row)
        return found

    @cached_property
    def targets_of_sets(self) -> dict[int, list[int]]:
        """Of planned exercises whose sets have targets of their own, those targets in order."""
        targets = self.assessment.history.record.set_targets
        found: dict[int, list[int]] = defaultdict(list)
        columns = (targets[name].tolist() for name in ("planned_id", "number", "reps"))
        for planned_id, _, reps in sorted(zip(*columns, strict=True)):
            found[planned_id].append(reps)
        return found

    def _rows_of_findings(self) -> np.ndarray:
        """Rows of exposures of the clients and exercises that a finding names."""
        exposures, findings = self.assessment.history.exposures, self.assessment.findings
        of_exercise = findings.rows(is_of_exercise(findings))
        codes, _ = dense_codes(
            np.concatenate([exposures["client_row"], of_exercise["client_row"]]),
            np.concatenate([exposures["exercise_id"], of_exercise["subject"]]),
        )
        return np.flatnonzero(np.isin(codes[: len(exposures)], codes[len(exposures) :]))

    def _sets_of(self, planned_rows: np.ndarray) -> dict[int, list[tuple[int, int]]]:
        """(reps, load code) of the working sets that count for each planned exercise, in order."""
        history = self.assessment.history
        matched = history.matched_sets
        is_first = history.links["standing"][matched["log_row"]] == Standing.FIRST
        wanted = is_first & np.isin(matched["planned_row"], planned_rows)
        found: dict[int, list[tuple[int, int]]] = defaultdict(list)
        columns = (matched[name][wanted].tolist() for name in ("planned_row", "reps", "load_code"))
        for row, reps, load in zip(*columns, strict=True):
            found[row].append((reps, load))
        return found

    def unit_of(self, client_row: int) -> str:
        return self.units[int(self.assessment.history.record.clients["client_id"][client_row])]

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
        return to_date(self.assessment.history.record.clients["as_of_day"][client_row])


def build_context(assessment: Assessment, regions: dict[int, str]) -> FindingContext:
    findings = assessment.findings
    client_rows = np.unique(findings["client_row"])
    client_ids = assessment.history.record.clients["client_id"][client_rows].tolist()
    exercise_ids = set(findings["subject"][is_of_exercise(findings)].tolist())
    return FindingContext(
        assessment=assessment,
        regions=regions,
        units=dict(_UNITS.rows(client_ids)),
        exercise_names=dict(_EXERCISE_NAMES.rows(exercise_ids)),
        session_labels={pk: (label, week) for pk, label, week in _SESSION_LABELS.rows(client_ids)},
    )
