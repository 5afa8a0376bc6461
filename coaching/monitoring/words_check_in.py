"""Check-in calls in words."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from analytics.training_weeks import to_date
from coaching.monitoring.context import FindingContext
from coaching.monitoring.plain_words import counted, day_text


def check_in_due(context: FindingContext, finding: dict[str, int]) -> dict[str, Any]:
    thresholds = context.assessment.history.thresholds
    late, call = finding["count"], finding["row"]
    due_on = context.as_of(finding["client_row"]) - timedelta(days=late)
    last_held = context.assessment.rules.check_ins.last_held(call)
    last = "none yet" if last_held is None else day_text(to_date(last_held))
    return {
        "sentence": f"Check-in call {_due_text(late)}: {day_text(due_on)}.",
        "remark": "No check-in call yet." if last_held is None else f"Last check-in call {last}.",
        "rule": (
            f"From {counted(thresholds.check_in_ahead_days, 'day')} before a check-in call is due; to act on from "
            f"{counted(thresholds.check_in_late_days, 'day')} after. One is due every "
            f"{counted(thresholds.check_in_every_days, 'day')} from joining, or on a day that was set."
        ),
        "clears": "The call being held, or moved to another day.",
        "evidence_columns": ["Due", "Last call"],
        "evidence_rows": [[day_text(due_on), last]],
        "options": ["Send the three questions, and note what comes back.", "Read the pack, then ring."],
    }


def _due_text(late: int) -> str:
    if late < 0:
        return f"due in {counted(-late, 'day')}"
    return f"due {counted(late, 'day')} ago" if late else "due today"
