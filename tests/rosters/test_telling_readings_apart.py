"""A comparison has teeth when a slightly different reading of a rule changes some exported row. Each reading here is
wrong by a day, a boundary or a case; the invented rosters have to show it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import timedelta
from functools import cache

import pytest

from tests.plain_twin import (
    client_day,
    exposures,
    findings,
    findings_loads,
    findings_pain,
    findings_turnout,
    landings,
    linking,
    record,
    sets_of_rows,
)
from tests.plain_twin import exports as twin
from tests.plain_twin.finding import Finding
from tests.plain_twin.reading import read_record
from tests.rosters.generate import FIRST_MONDAY, random_roster

SEEDS = range(101, 125)
DAYS = [FIRST_MONDAY + timedelta(days=30 + 16 * step) for step in range(6)]
TABLES = (twin.export_sessions, twin.export_weeks, twin.export_exposures, twin.export_flags)


def _more_than_99_percent(row, logged) -> bool:
    grams = logged.load.grams
    return row.load.grams is None or (grams is not None and 100 * grams > 99 * row.load.grams)


def _first_plan_of_it(client, exercise) -> int:
    rows = [row for session in client.sessions for row in session.exercises if row.exercise == exercise]
    return rows[0].implements if rows else 1


def _in_the_order_filed(log, exercise) -> list:
    return [logged for logged in log.sets if logged.exercise == exercise and logged.is_working]


def _without_warm_ups(session, log) -> int:
    done = {logged.exercise for logged in log.sets if not logged.is_warm_up}
    return len(done & {planned.exercise for planned in session.exercises})


def _deload_is_no_reason(exposure, returns) -> bool:
    return exposure.reason in ("not_logged", "other_load")


def _up_to_today(at, exercise) -> bool:
    sessions = [state.session for state in at.states if at.day - timedelta(days=13) <= state.session.suggested_on]
    return any(row.exercise == exercise for past in sessions if past.suggested_on <= at.day for row in past.exercises)


def _third_only(landing) -> str | None:
    return "act" if len(landing) >= 3 and not any(exposure.met for exposure in landing[-3:]) else None


def _all_days(at, last_log_on) -> int:
    return (at.day - last_log_on).days


def _region_of_the_latest(latest_first) -> str:
    return latest_first[0].pain_region or "unspecified"


def _last_day_left_out(client, day) -> bool:
    return any(first <= day < last for first, last in client.pauses)


def _by_subject(finding: Finding) -> tuple[str, str]:
    return finding.kind, finding.subject


def _never_ready(at, exercise) -> bool:
    return False


READINGS: dict[str, tuple[object, str, Callable | property]] = {
    "the load asked for begins above 99 %": (exposures, "carries", _more_than_99_percent),
    "an unplanned exercise counts as first planned": (sets_of_rows, "implements_unplanned", _first_plan_of_it),
    "sets fill rows as filed": (sets_of_rows, "working_sets", _in_the_order_filed),
    "warm-ups share no exercise": (linking, "shared_exercises", _without_warm_ups),
    "a deload stays on its landing": (landings, "is_left_out", _deload_is_no_reason),
    "the future keeps nothing live": (client_day.ClientDay, "is_live", _up_to_today),
    "a stall needs three": (findings_loads, "stall_urgency", _third_only),
    "nobody is ready": (findings_loads, "is_ready", _never_ready),
    "paused days are quiet days": (findings_turnout, "not_paused_days_since", _all_days),
    "the latest report alone names the region": (findings_pain, "latest_region", _region_of_the_latest),
    "a pause ends before its last day": (record.Client, "is_paused_on", _last_day_left_out),
    "each subject opens an episode": (Finding, "condition", property(_by_subject)),
    "nothing runs out": (findings, "find_plan_runs_out", lambda at: []),
}


def _exports(seed: int) -> Iterator[list[dict]]:
    roster = random_roster(seed, clients=5, weeks=18)
    read = read_record(roster.clients, roster.blocks, roster.logs)
    return (export(read, day) for day in DAYS for export in TABLES)


@cache
def _rightly_read(seed: int) -> list[list[dict]]:
    return list(_exports(seed))


@pytest.mark.parametrize("reading", READINGS)
def test_a_wrong_reading_shows_in_some_roster(reading, monkeypatch):
    place, name, wrong = READINGS[reading]

    def _shows(seed: int) -> bool:
        right = _rightly_read(seed)
        with monkeypatch.context() as patch:
            patch.setattr(place, name, wrong)
            return any(table != expected for table, expected in zip(_exports(seed), right, strict=True))

    assert any(_shows(seed) for seed in SEEDS)
