from __future__ import annotations

from datetime import date

from tests.plain_twin.exports import export_flags
from tests.plain_twin.small_files import asked, done, record_of, told

DAILY_PLAN = [asked(week=str(week), day=day, session=day) for week in (1, 2, 3, 4) for day in ("mon", "wed", "fri")]


def opened(record, kind: str, on: str) -> tuple[str, date] | None:
    rows = [row for row in export_flags(record, date.fromisoformat(on)) if row["kind"] == kind]
    return (rows[0]["subject"], rows[0]["opened_on"]) if rows else None


def test_turnout_is_one_episode_while_any_of_its_subjects_holds():
    # Early from Sunday 11 (the Friday is overdue), then week_gone, then quiet.
    record = record_of(DAILY_PLAN, done("2026-01-05", names="1 mon"))

    assert opened(record, "turnout", "2026-01-11") == ("early", date(2026, 1, 11))
    assert opened(record, "turnout", "2026-01-14") == ("week_gone", date(2026, 1, 11))
    assert opened(record, "turnout", "2026-01-19") == ("quiet", date(2026, 1, 11))


def test_a_pause_ends_an_episode_and_the_day_after_it_opens_another():
    record = record_of(DAILY_PLAN, done("2026-01-05", names="1 mon"), pauses="2026-01-15..2026-01-16")

    assert opened(record, "turnout", "2026-01-16") is None
    assert opened(record, "turnout", "2026-01-17") == ("week_gone", date(2026, 1, 17))


def test_pain_keeps_its_day_while_its_region_changes():
    knee = told("2026-01-05", names="", pain="6", pain_region="knee")
    shoulder = told("2026-01-08", names="", pain="4", pain_region="shoulder")
    record = record_of([], knee, shoulder)

    assert opened(record, "pain", "2026-01-20") == ("shoulder", date(2026, 1, 5))


def test_a_finding_is_open_since_the_log_that_made_it():
    plan = [asked(), asked(week="2", sets=4), asked(week="3", sets=5)]
    logs = [
        done("2026-01-05", "7@20"),
        done("2026-01-13", "7@20", names="2 A"),
        done("2026-01-19", "7@20", names="3 A"),
    ]
    record = record_of(plan, *logs)

    assert opened(record, "stall", "2026-01-12") is None
    assert opened(record, "stall", "2026-01-20") == ("Squat", date(2026, 1, 13))
