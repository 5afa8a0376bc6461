"""Findings in plain words: a sentence with its figures, the rows behind it, the rule, what would clear it, options."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from analytics import findings_schema
from analytics.findings_schema import Kind
from coaching.monitoring import words_check_in, words_exercise, words_pain, words_turnout
from coaching.monitoring.context import FindingContext
from coaching.monitoring.models import Kind as FlagKind
from coaching.monitoring.models import Urgency as FlagUrgency

KINDS = {
    Kind.PAIN: FlagKind.PAIN, Kind.TURNOUT: FlagKind.TURNOUT, Kind.STALL: FlagKind.STALL,
    Kind.STEP_NOT_TAKEN: FlagKind.STEP_NOT_TAKEN, Kind.SKIPS_IT: FlagKind.SKIPS_IT, Kind.CUT_SHORT: FlagKind.CUT_SHORT,
    Kind.NO_STEP: FlagKind.NO_STEP, Kind.PLAN_RUNS_OUT: FlagKind.PLAN_RUNS_OUT, Kind.TOO_EASY: FlagKind.TOO_EASY,
    Kind.READY: FlagKind.READY, Kind.CHECK_IN_DUE: FlagKind.CHECK_IN_DUE,
}
URGENCIES = {
    findings_schema.Urgency.NOW: FlagUrgency.NOW, findings_schema.Urgency.ACT: FlagUrgency.ACT,
    findings_schema.Urgency.WATCH: FlagUrgency.WATCH, findings_schema.Urgency.GOOD: FlagUrgency.GOOD,
}

UNSPECIFIED_REGION = "unspecified"


@dataclass(frozen=True)
class Words:
    """What a finding says; `evidence_columns` head `evidence_rows`."""

    sentence: str
    rule: str
    clears: str
    remark: str = ""
    evidence_columns: list[str] = field(default_factory=list)
    evidence_rows: list[list[str]] = field(default_factory=list)
    options: list[str] = field(default_factory=list)

    @property
    def evidence(self) -> dict[str, Any]:
        return {"columns": self.evidence_columns, "rows": self.evidence_rows}


_WORDS_OF: dict[Kind, Callable[[FindingContext, dict[str, int]], dict[str, Any]]] = {
    Kind.PAIN: words_pain.pain,
    Kind.TURNOUT: words_turnout.turnout,
    Kind.CUT_SHORT: words_turnout.cut_short,
    Kind.PLAN_RUNS_OUT: words_turnout.plan_runs_out,
    Kind.STALL: words_exercise.stall,
    Kind.STEP_NOT_TAKEN: words_exercise.step_not_taken,
    Kind.SKIPS_IT: words_exercise.skips_it,
    Kind.NO_STEP: words_exercise.no_step,
    Kind.TOO_EASY: words_exercise.too_easy,
    Kind.READY: words_exercise.ready,
    Kind.CHECK_IN_DUE: words_check_in.check_in_due,
}


def words_of(context: FindingContext, finding: dict[str, int]) -> Words:
    """The words of one row of `find_findings`, given as a plain dictionary."""
    return Words(**_WORDS_OF[Kind(finding["kind"])](context, finding))


def subject_of(context: FindingContext, finding: dict[str, int]) -> str:
    """The subject as people read it: an exercise, a region, which turnout condition; empty where the kind has none."""
    kind, subject = Kind(finding["kind"]), finding["subject"]
    if kind == Kind.PAIN:
        return words_pain.region(context, finding) or UNSPECIFIED_REGION
    if kind == Kind.TURNOUT:
        return findings_schema.Turnout(subject).name.lower()
    return context.exercise_names[subject] if kind in findings_schema.EXERCISE_KINDS else ""
