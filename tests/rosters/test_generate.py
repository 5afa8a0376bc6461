"""The rosters have to be awkward enough: what never occurs in them is never compared."""

from __future__ import annotations

import csv
from collections import Counter
from datetime import date, timedelta

import pytest

from tests.plain_twin.client_day import look_at
from tests.plain_twin.findings import findings_on
from tests.plain_twin.reading import read_record
from tests.plain_twin.trends import trend
from tests.rosters.generate import FIRST_MONDAY, random_roster
from tests.rosters.roster import LOG_COLUMNS, write_files

SEEDS = range(30)
STATUSES = {"done", "partial", "told", "missed", "overdue", "awaited", "not_due", "to_come"}
REASONS = {None, "not_logged", "load_below", "sets_short", "other_load", "reps_short", "rest_over"}
FINDINGS = {
    ("pain", "now"),
    ("pain", "act"),
    ("pain", "watch"),
    ("turnout", "silent"),
    ("turnout", "quiet"),
    ("turnout", "not_started"),
    ("turnout", "week_gone"),
    ("turnout", "early"),
    ("stall", "watch"),
    ("stall", "act"),
    ("step_not_taken", "act"),
    ("skips_it", "watch"),
    ("cut_short", "watch"),
    ("no_step", "watch"),
    ("plan_runs_out", "act"),
    ("too_easy", "good"),
    ("ready", "good"),
}


@pytest.fixture(scope="module")
def seen() -> dict[str, Counter]:
    """How often each status, reason and finding occurs in thirty rosters, each on three days."""
    seen = {"statuses": Counter(), "reasons": Counter(), "findings": Counter()}
    for seed in SEEDS:
        roster = random_roster(seed)
        record = read_record(roster.clients, roster.blocks, roster.logs)
        for week in (4, 10, 17):
            day = FIRST_MONDAY + timedelta(weeks=week, days=seed % 7)
            for client in record.clients:
                at = look_at(client, day)
                seen["statuses"].update(state.status for state in at.states)
                seen["reasons"].update(exposure.reason for exposure in at.exposures)
                seen["findings"].update(
                    (finding.kind, finding.subject if finding.kind == "turnout" else finding.urgency)
                    for finding in findings_on(record, client, day)
                )
    return seen


def test_every_status_occurs(seen):
    assert set(seen["statuses"]) == STATUSES


def test_every_reason_occurs(seen):
    assert set(seen["reasons"]) == REASONS


def test_every_kind_and_urgency_of_finding_occurs(seen):
    assert set(seen["findings"]) == FINDINGS


def test_every_verdict_of_a_trend_occurs():
    verdicts = set()
    for seed in SEEDS:
        roster = random_roster(seed)
        for client in read_record(roster.clients, roster.blocks, roster.logs).clients:
            verdicts.add(trend(look_at(client, FIRST_MONDAY + timedelta(weeks=15)), "completion", 12).verdict)

    assert verdicts == {"too little to tell", "steady or unclear", "rising", "falling"}


def test_the_same_seed_makes_the_same_roster():
    assert random_roster(3) == random_roster(3)
    assert random_roster(3) != random_roster(4)


def test_options_fix_what_is_otherwise_drawn():
    roster = random_roster(1, clients=5, unit="lb", sends="weekly", labels="none", sessions_a_week=2)

    assert {(row["unit"], row["sends"]) for row in roster.clients} == {("lb", "weekly")}
    assert {row["block"] + row["week"] + row["session"] for row in roster.logs} == {""}
    weeks = Counter((row["client"], row["starts_on"], row["week"], row["day"]) for row in roster.blocks)
    assert set(Counter(key[:3] for key in weeks).values()) == {2}


def test_what_makes_real_files_awkward_occurs():
    logs = [row for seed in SEEDS for row in random_roster(seed).logs]
    blocks = [row for seed in SEEDS for row in random_roster(seed).blocks]

    assert {row["warm_up"] for row in logs} == {"", "no", "0", "yes", "1"}
    assert {bool(row["block"]) for row in logs} == {True, False}
    assert any(row["exercise"] == "" for row in logs)
    assert any(row["reps"] == "0" for row in logs)
    assert any(date(2026, 12, 28) <= date.fromisoformat(row["performed_on"]) <= date(2027, 1, 3) for row in logs)
    assert {row["changed"] for row in blocks} == {"none", "sets", "reps", "rest", "deload"}
    assert {row["count"] for row in blocks} == {"", "1", "2"}
    for written in (" each", " s", " m", "-"):
        assert any(written in row["reps"] for row in blocks)


def test_an_exercise_occurs_twice_in_a_session():
    blocks = [row for seed in SEEDS for row in random_roster(seed).blocks]

    places = Counter(tuple(row[name] for name in ("client", "block", "week", "day", "exercise")) for row in blocks)

    assert 2 in places.values()


def test_files_read_back_as_they_were_written(tmp_path):
    roster = random_roster(2, clients=3)

    _, _, logs = write_files(roster, tmp_path)

    with logs.open(encoding="utf-8", newline="") as file:
        assert list(csv.DictReader(file)) == [{name: row[name] for name in LOG_COLUMNS} for row in roster.logs]
