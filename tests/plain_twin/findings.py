"""Everything found about a client on a day, and since when: a literal replay, day by day."""

from __future__ import annotations

from datetime import date, timedelta

from tests.plain_twin.client_day import ClientDay, look_at
from tests.plain_twin.finding import Finding
from tests.plain_twin.findings_check_in import find_check_in_due
from tests.plain_twin.findings_loads import find_on_landing
from tests.plain_twin.findings_pain import find_pain
from tests.plain_twin.findings_sessions import find_cut_short, find_plan_runs_out, find_skips_it
from tests.plain_twin.findings_turnout import find_turnout
from tests.plain_twin.record import Client, Record, fold


def findings_on(record: Record, client: Client, day: date) -> list[Finding]:
    if day not in client.remembered:
        client.remembered[day] = _find_all(record, look_at(client, day))
    return client.remembered[day]


def _find_all(record: Record, at: ClientDay) -> list[Finding]:
    pain = find_pain(at)
    found = [*pain, *find_turnout(at), *find_cut_short(at), *find_plan_runs_out(at), *find_check_in_due(at)]
    for exercise in at.exercises:
        regions = {fold(region) for region in record.regions_of.get(exercise, [])} - {""}
        is_muted = any(fold(finding.subject) in regions for finding in pain)
        found += find_on_landing(at, exercise, is_muted)
        found += find_skips_it(at, exercise)
    return found


def opened_on(record: Record, client: Client, finding: Finding, as_of: date) -> date:
    """The first day from which the condition has held on every day up to `as_of`."""
    day = as_of
    while finding.condition in {earlier.condition for earlier in findings_on(record, client, day - timedelta(days=1))}:
        day -= timedelta(days=1)
    return day
