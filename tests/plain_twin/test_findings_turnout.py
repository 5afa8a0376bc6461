from __future__ import annotations

import pytest

from tests.plain_twin.findings_turnout import find_turnout
from tests.plain_twin.small_files import asked, done, look


def three_a_week(weeks: int) -> list[dict]:
    """Monday, Wednesday and Friday, from 2026-01-05 on."""
    days = ("mon", "wed", "fri")
    return [asked(week=str(week), day=day, session=day) for week in range(1, weeks + 1) for day in days]


def subject(plan: list, *logs: list, on: str, **client_cells: str) -> tuple[str, str] | None:
    found = find_turnout(look(plan, *logs, on=on, **client_cells))
    return (found[0].subject, found[0].urgency) if found else None


@pytest.mark.parametrize(("on", "expected"), [("2026-01-09", None), ("2026-01-10", ("not_started", "act"))])
def test_not_started_five_days_after_the_first_due_session_s_day(on, expected):
    assert subject(three_a_week(1), on=on) == expected


def test_somebody_with_no_log_yet_is_not_started_only():
    assert subject(three_a_week(9), on="2026-03-01") == ("not_started", "act")


@pytest.mark.parametrize(
    ("on", "expected"),
    [("2026-02-21", "week_gone"), ("2026-02-22", "quiet"), ("2026-03-07", "quiet"), ("2026-03-08", "silent")],
)
def test_quiet_from_fourteen_days_without_a_log_and_silent_from_twenty_eight(on, expected):
    # The last log is of Sunday 2026-02-08.
    logs = [done("2026-01-05", names="1 mon"), done("2026-02-08", names="5 fri")]

    assert subject(three_a_week(9), *logs, on=on) == (expected, "act")


def test_paused_days_do_not_count_as_quiet():
    log = done("2026-02-08", names="5 fri")

    found = subject(three_a_week(9), log, on="2026-02-22", pauses="2026-02-14..2026-02-14")

    assert found == ("week_gone", "act")


def test_never_while_the_day_lies_in_a_pause():
    log = done("2026-02-08", names="5 fri")

    assert subject(three_a_week(9), log, on="2026-03-08", pauses="2026-03-08..2026-03-20") is None


def test_quiet_needs_a_due_session_suggested_since_the_last_log():
    logs = [done("2026-01-05", names="1 mon"), done("2026-01-07", names="1 wed"), done("2026-01-09", names="1 fri")]

    assert subject(three_a_week(1), *logs, on="2026-03-08") is None


def test_week_gone_when_the_last_three_due_sessions_are_missed_or_overdue():
    logs = [
        done(f"2026-01-{day + 7 * (week - 1):02}", names=f"{week} {name}")
        for week in (1, 2, 3, 4)
        for day, name in ((5, "mon"), (7, "wed"), (9, "fri"))
    ]

    # On Saturday the Friday is not due yet, on Sunday it is overdue.
    assert subject(three_a_week(6), *logs, on="2026-02-07") is None
    assert subject(three_a_week(6), *logs, on="2026-02-08") == ("week_gone", "act")


@pytest.mark.parametrize(("on", "expected"), [("2026-01-10", None), ("2026-01-11", ("early", "watch"))])
def test_early_when_the_last_two_due_sessions_are_missed_in_the_first_four_weeks(on, expected):
    assert subject(three_a_week(4), done("2026-01-05", names="1 mon"), on=on) == expected


def test_early_ends_twenty_eight_days_after_the_first_due_session_s_day():
    # One session a week; the second last and the last are missed.
    plan = [asked(week=str(week)) for week in range(1, 7)]
    logs = [done("2026-01-05"), done("2026-01-12", names="2 A"), done("2026-01-29", {"Swim": "20"}, names="")]

    assert subject(plan, *logs, on="2026-02-01") == ("early", "watch")
    assert subject(plan, *logs, on="2026-02-02") is None
