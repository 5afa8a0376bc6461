"""Pain in words. Muster never advises to train through it."""

from __future__ import annotations

from typing import Any

from analytics.training_weeks import to_date
from coaching.monitoring.context import FindingContext
from coaching.monitoring.plain_words import count_text, counted, day_text, number_text


def pain(context: FindingContext, finding: dict[str, int]) -> dict[str, Any]:
    reports = context.assessment.rules.pain_reports
    thresholds = context.assessment.history.thresholds
    row, window = finding["row"], finding["count"]
    first = row - window + 1
    named = region(context, finding)
    latest = float(reports.pain[row])
    where = f" in the {named}" if named else " (no region named)"
    sentence = f"Pain {number_text(latest)} of 10{where} on {day_text(to_date(reports.day[row]))}"
    if latest > thresholds.pain_safe and window > 1:
        sentence += f"; {counted(window, 'report')} above {number_text(thresholds.pain_safe)} in a row"
    elif latest <= thresholds.pain_safe and not reports.is_alarm[row]:
        sentence += f"; felt in each of the last {count_text(window)} reports"
    if reports.is_alarm[first : row + 1].any():
        sentence = "An alarm symptom was reported. " + sentence
    return {
        "sentence": sentence + ".",
        "rule": (
            f"Reports from the latest back to the first of at most {number_text(thresholds.pain_safe)}: one is to "
            f"watch, {count_text(thresholds.pain_act_reports)} are to act on, one above "
            f"{number_text(thresholds.pain_high)} or an alarm symptom is now. Without one above "
            f"{number_text(thresholds.pain_safe)}, the last {count_text(thresholds.pain_lasting_reports)} all of at "
            f"least {number_text(thresholds.pain_lasting_from)} are to watch."
        ),
        "clears": (
            f"A later report of at most {number_text(thresholds.pain_safe)}, or your closing it with a note. "
            "Silence does not clear it."
        ),
        "evidence_columns": ["Day", "Pain, of 10", "Region", "Alarm symptom"],
        "evidence_rows": [
            [
                day_text(to_date(reports.day[index])),
                number_text(float(reports.pain[index])),
                context.region_of_report(index) or "–",
                "yes" if reports.is_alarm[index] else "no",
            ]
            for index in range(first, row + 1)
        ],
        "options": [
            "Ring before the next session and ask what a doctor or physiotherapist has seen.",
            "Leave out what loads the region until somebody licensed has said otherwise.",
        ],
    }


def region(context: FindingContext, finding: dict[str, int]) -> str:
    """The latest region named in the reports of a finding, as the client wrote it; empty where none was."""
    row = context.assessment.rules.pain_reports.naming_row(finding["row"], finding["count"])
    return context.region_of_report(row) if row is not None else ""
