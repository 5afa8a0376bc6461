"""Pain in words. Muster never advises to train through it."""

from __future__ import annotations

from typing import Any

from analytics.flag_thresholds import Thresholds
from analytics.training_weeks import to_date
from coaching.monitoring.context import FindingContext
from coaching.monitoring.plain_words import count_text, counted, day_text, number_text


def pain(context: FindingContext, finding: dict[str, int]) -> dict[str, Any]:
    calm = number_text(context.assessment.history.thresholds.pain_safe)
    return {
        "sentence": _sentence(context, finding),
        "rule": _rule(context.assessment.history.thresholds),
        "clears": f"A later report of at most {calm}, or your closing it with a note. Silence does not clear it.",
        "evidence_columns": ["Day", "Pain, of 10", "Region", "Alarm symptom"],
        "evidence_rows": [_evidence_row(context, row) for row in _rows(finding)],
        "options": [
            "Ring before the next session and ask what a doctor or physiotherapist has seen.",
            "Leave out what loads the region until somebody licensed has said otherwise.",
        ],
    }


def _rows(finding: dict[str, int]) -> range:
    """The reports taken together, oldest first."""
    return range(finding["row"] - finding["count"] + 1, finding["row"] + 1)


def _sentence(context: FindingContext, finding: dict[str, int]) -> str:
    reports, row, count = context.assessment.rules.pain_reports, finding["row"], finding["count"]
    calm = context.assessment.history.thresholds.pain_safe
    named, latest = region(context, finding), float(reports.pain[row])
    where = f" in the {named}" if named else " (no region named)"
    sentence = f"Pain {number_text(latest)} of 10{where} on {day_text(to_date(reports.day[row]))}"
    if latest > calm and count > 1:
        sentence += f"; {counted(count, 'report')} above {number_text(calm)} in a row"
    elif latest <= calm and not reports.is_alarm[row]:
        sentence += f"; felt in each of the last {count_text(count)} reports"
    if reports.is_alarm[_rows(finding)].any():
        sentence = "An alarm symptom was reported. " + sentence
    return sentence + "."


def _rule(thresholds: Thresholds) -> str:
    calm = number_text(thresholds.pain_safe)
    return (
        f"Reports from the latest back to the first of at most {calm}: one is to watch, "
        f"{count_text(thresholds.pain_act_reports)} are to act on, one above {number_text(thresholds.pain_high)} or "
        f"an alarm symptom is now. Without one above {calm}, the last {count_text(thresholds.pain_lasting_reports)} "
        f"all of at least {number_text(thresholds.pain_lasting_from)} are to watch."
    )


def _evidence_row(context: FindingContext, row: int) -> list[str]:
    reports = context.assessment.rules.pain_reports
    return [
        day_text(to_date(reports.day[row])),
        number_text(float(reports.pain[row])),
        context.region_of_report(row) or "–",
        "yes" if reports.is_alarm[row] else "no",
    ]


def region(context: FindingContext, finding: dict[str, int]) -> str:
    """The latest region named in the reports of a finding, as the client wrote it; empty where none was."""
    row = context.assessment.rules.pain_reports.naming_row(finding["row"], finding["count"])
    return context.region_of_report(row) if row is not None else ""
