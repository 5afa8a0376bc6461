from __future__ import annotations

from fractions import Fraction

import pytest

from tests.plain_twin.small_files import asked, done, look, told
from tests.plain_twin.statuses import turnout

# Suggested on Thursday 2026-01-08; its week ends on Sunday 2026-01-11.
THURSDAY = [asked(sets=5, day="thu")]
# The same with a second week, so that the block ends on Sunday 2026-01-18.
TWO_WEEKS = [*THURSDAY, asked(week="2", session="B")]


def status(*logs: list, on: str, plan: list = THURSDAY, **client_cells: str) -> str:
    return look(plan, *logs, on=on, **client_cells).states[0].status


@pytest.mark.parametrize(
    ("on", "expected"),
    [("2026-01-09", "to_come"), ("2026-01-10", "overdue"), ("2026-01-11", "overdue"), ("2026-01-12", "missed")],
)
def test_who_sends_each_session_is_overdue_after_two_days_and_missed_after_the_sunday(on, expected):
    assert status(on=on, sends="each") == expected


@pytest.mark.parametrize(
    ("on", "expected"),
    [("2026-01-09", "to_come"), ("2026-01-10", "awaited"), ("2026-01-13", "awaited"), ("2026-01-14", "missed")],
)
def test_who_sends_weekly_is_awaited_until_two_days_after_the_sunday(on, expected):
    assert status(on=on, sends="weekly") == expected


@pytest.mark.parametrize(
    ("on", "expected"), [("2026-01-10", "awaited"), ("2026-01-20", "awaited"), ("2026-01-21", "missed")]
)
def test_who_sends_at_block_end_is_awaited_until_two_days_after_the_block(on, expected):
    assert status(on=on, plan=TWO_WEEKS, sends="block") == expected


@pytest.mark.parametrize(("sets", "expected"), [("8@20 8@20 8@20 8@20", "done"), ("8@20 8@20 8@20", "partial")])
def test_done_from_eighty_percent_of_the_sets(sets, expected):
    assert status(done("2026-01-08", sets), on="2026-01-08") == expected


def test_told_has_no_details_and_no_completion():
    state = look(THURSDAY, told("2026-01-08"), on="2026-01-08").states[0]

    assert (state.status, state.set_completion) == ("told", None)


def test_not_due_within_a_pause_its_last_day_included():
    assert status(on="2026-02-01", pauses="2026-01-01..2026-01-08") == "not_due"


def test_not_due_before_joining():
    assert status(on="2026-02-01", joined_on="2026-01-09") == "not_due"


def test_a_log_counts_within_a_pause_too():
    log = done("2026-01-08", "8@20 8@20 8@20 8@20 8@20")

    state = look(THURSDAY, log, on="2026-01-08", pauses="2026-01-08..2026-01-08").states[0]

    assert (state.status, state.is_due) == ("done", True)


def test_a_log_performed_later_than_the_day_is_not_known():
    assert status(done("2026-01-13"), on="2026-01-12") == "missed"


@pytest.mark.parametrize(("performed_on", "expected"), [("2026-01-11", False), ("2026-01-12", True)])
def test_done_later_is_after_the_sunday(performed_on, expected):
    assert look(THURSDAY, done(performed_on), on="2026-01-12").states[0].is_done_later is expected


def test_completion_counts_at_most_the_planned_sets_of_each_exercise():
    plan = [asked("Squat", sets=3), asked("Row", sets=3)]

    state = look(plan, done("2026-01-05", {"Squat": "8@20 8@20 8@20 8@20", "Row": "8@20"}), on="2026-01-05").states[0]

    assert state.set_completion == Fraction(3 + 1, 6)


def test_warm_ups_and_sets_without_a_rep_are_no_working_sets():
    state = look([asked(sets=3)], done("2026-01-05", "8@10* 8@20 0@20"), on="2026-01-05").states[0]

    assert state.set_completion == Fraction(1, 3)


def test_sets_of_an_exercise_planned_twice_fill_its_rows_in_order():
    plan = [asked(sets=3), asked("Row", sets=2), asked(sets=2, load="16")]

    at = look(plan, done("2026-01-05", "8@20 8@20 8@20 8@16"), on="2026-01-05")

    assert [len(exposure.sets) for exposure in at.exposures] == [3, 0, 1]


def test_completion_is_zero_when_missed_and_empty_when_to_come():
    at = look(TWO_WEEKS, on="2026-01-12")

    assert [state.set_completion for state in at.states] == [0, None]


def test_turnout_is_attended_over_due_and_a_partial_is_no_miss():
    plan = [asked(sets=5, day=day, session=day) for day in ("mon", "tue", "wed", "thu")]
    logs = [
        done("2026-01-05", "8@20", names="1 mon"),
        told("2026-01-06", names="1 tue"),
        done("2026-01-07", names="1 wed"),
    ]

    at = look(plan, *logs, on="2026-01-12")

    assert [state.status for state in at.states] == ["partial", "told", "partial", "missed"]
    assert turnout(at.states) == Fraction(3, 4)
