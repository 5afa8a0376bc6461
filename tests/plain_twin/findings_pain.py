"""`pain`: take the recorded reports from the latest back to the first that is <= 2 (not included)."""

from __future__ import annotations

from tests.plain_twin.client_day import ClientDay
from tests.plain_twin.finding import Finding
from tests.plain_twin.record import Log


def find_pain(at: ClientDay) -> list[Finding]:
    reports = pain_reports(at)
    run: list[Log] = []
    for report in reversed(reports):
        if report.pain <= 2:
            break
        run.append(report)
    if run:
        return [Finding("pain", latest_region(run), _urgency(run))]
    last_three = reports[-3:]
    if len(last_three) == 3 and all(report.pain >= 1 for report in last_three):
        return [Finding("pain", latest_region(list(reversed(last_three))), "watch")]
    return []


def pain_reports(at: ClientDay) -> list[Log]:
    """Oldest first."""
    reports = [link.log for link in at.links if link.log.pain is not None]
    return sorted(reports, key=lambda log: (log.performed_on, log.filed))


def _urgency(run: list[Log]) -> str:
    if any(report.pain > 5 for report in run):
        return "now"
    return "act" if len(run) >= 2 else "watch"


def latest_region(latest_first: list[Log]) -> str:
    for report in latest_first:
        if report.pain_region:
            return report.pain_region
    return "unspecified"
