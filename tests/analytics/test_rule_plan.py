"""Does the plan fit the time there is, and does it go on?"""

from __future__ import annotations

import pytest

from analytics.findings_schema import Kind
from tests.analytics.answers import findings, found
from tests.analytics.frames import Log, assessed, client, log, session, weekly, weekly_logs

DONE, PARTIAL = "8@20 8@20 8@20", "8@20 8@20"
PLAN = weekly(*["3x8@20"] * 8)
AFTER_FOUR, AFTER_FIVE = "2026-01-26", "2026-02-02"


def cut_short(*logs: Log, on: str = AFTER_FIVE, minutes: float = float("nan")) -> str | None:
    return findings(assessed(PLAN, logs, on=on, clients=[client(minutes=minutes)])).get("cut_short")


@pytest.mark.parametrize(
    ("sets", "expected"),
    [
        ([PARTIAL, PARTIAL, PARTIAL, DONE], "watch"),
        ([PARTIAL, PARTIAL, DONE, DONE], None),
        ([PARTIAL, PARTIAL, PARTIAL], None),
        ([PARTIAL, PARTIAL, PARTIAL, DONE, DONE], None),
        ([DONE, PARTIAL, PARTIAL, DONE, PARTIAL], "watch"),
        ([PARTIAL, PARTIAL, PARTIAL, PARTIAL], "watch"),
    ],
)
def test_three_of_the_last_four_sessions_with_a_log_were_partial(sets: list[str], expected: str | None):
    assert cut_short(*weekly_logs(*sets)) == expected


@pytest.mark.parametrize(("minutes", "expected"), [(52, "watch"), (51.9, None)])
def test_thirty_per_cent_over_the_minutes_the_client_has_counts_too(minutes: float, expected: str | None):
    logs = weekly_logs(*[DONE] * 4, minutes=minutes)

    assert cut_short(*logs, minutes=40) == expected
    assert cut_short(*logs) is None


@pytest.mark.parametrize("has_minutes", [18, 23, 36, 46])
def test_thirty_per_cent_over_is_exact_where_floats_are_not(has_minutes: int):
    logs = weekly_logs(*[DONE] * 4, minutes=round(has_minutes * 1.3, 1))

    assert cut_short(*logs, minutes=has_minutes) == "watch"


def test_missed_sessions_second_logs_and_extra_ones_are_not_among_the_four():
    logs = [*weekly_logs(PARTIAL, "", PARTIAL, DONE, PARTIAL), log("2026-02-02", PARTIAL, of=5), log("2026-02-02", "9")]

    assert cut_short(*logs) == "watch"


def test_told_without_details_is_among_the_four_and_not_cut_short():
    told = [*weekly_logs(PARTIAL, PARTIAL), log("2026-01-19", "", of=3), *weekly_logs("", "", "", DONE)]

    assert cut_short(*told, on=AFTER_FOUR) is None


def test_the_four_are_the_last_performed():
    """The first session of the plan was done last."""
    late = log("2026-02-02", DONE, of=1)

    assert cut_short(*weekly_logs("", PARTIAL, PARTIAL, PARTIAL), late) == "watch"
    assert cut_short(*weekly_logs("", DONE, PARTIAL, PARTIAL), late) is None


def test_it_counts_how_many_of_the_four():
    told = assessed(PLAN, weekly_logs(*[PARTIAL] * 4), on=AFTER_FIVE)

    assert found(told, Kind.CUT_SHORT)["count"] == 4


@pytest.mark.parametrize(
    ("day", "expected"), [("2026-01-14", None), ("2026-01-15", "act"), ("2026-01-18", "act"), ("2026-06-01", "act")]
)
def test_the_plan_runs_out_from_the_thursday_of_its_last_week_on(day: str, expected: str | None):
    """The last planned session is on Monday 12 January."""
    assert findings(assessed(weekly("3x8@20", "3x8@20"), on=day)).get("plan_runs_out") == expected


def test_a_further_block_moves_the_end():
    plan = [session(1, "2026-01-12"), session(2, "2026-02-09", block=2)]

    assert "plan_runs_out" not in findings(assessed(plan, on="2026-02-11"))
    assert "plan_runs_out" in findings(assessed(plan, on="2026-02-12"))


def test_it_does_not_run_out_in_a_pause_nor_for_somebody_who_is_not_active_nor_without_any_plan():
    plan = weekly("3x8@20")

    assert "plan_runs_out" not in findings(assessed(plan, on="2026-01-20", pauses=[("2026-01-20", "2026-01-20")]))
    assert "plan_runs_out" not in findings(assessed(plan, on="2026-01-20", clients=[client(is_active=False)]))
    assert findings(assessed(on="2026-01-20")) == {}
