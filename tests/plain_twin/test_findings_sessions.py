from __future__ import annotations

from datetime import date, timedelta

import pytest

from tests.plain_twin.findings_sessions import find_cut_short, find_plan_runs_out, find_skips_it
from tests.plain_twin.small_files import asked, done, look

MONDAY = date(2026, 1, 5)


def on_days(count: int) -> list[dict]:
    """Squat and Row once a week."""
    return [row for week in range(1, count + 1) for row in (asked(week=str(week)), asked("Row", week=str(week)))]


def weekly_logs(*sets: dict[str, str] | str, minutes: str = "") -> list[list[dict]]:
    return [
        done((MONDAY + timedelta(weeks=index)).isoformat(), text, names=f"{index + 1} A", minutes=minutes)
        for index, text in enumerate(sets)
    ]


WITH_ROW, WITHOUT_ROW = {"Squat": "8@20", "Row": "8@20"}, {"Squat": "8@20"}


@pytest.mark.parametrize(
    ("sets", "expected"),
    [
        ([WITHOUT_ROW] * 2, 0),
        ([WITHOUT_ROW] * 3, 1),
        ([WITHOUT_ROW, WITH_ROW, WITHOUT_ROW, WITHOUT_ROW], 1),
        ([WITHOUT_ROW, WITHOUT_ROW, WITH_ROW, WITHOUT_ROW, WITH_ROW], 0),
    ],
)
def test_skips_it_in_three_of_the_last_four_or_in_all_of_three(sets, expected):
    at = look(on_days(5), *weekly_logs(*sets), on="2026-02-02")

    assert len(find_skips_it(at, "row")) == expected


WHOLE, PART = {"Squat": "8@20 8@20 8@20", "Row": "8@20 8@20 8@20"}, {"Squat": "8@20 8@20", "Row": "8@20"}


@pytest.mark.parametrize(
    ("sets", "expected"),
    [([PART, WHOLE, PART, PART], 1), ([PART, PART, PART], 0), ([PART, PART, WHOLE, PART, WHOLE], 0)],
)
def test_cut_short_when_three_of_the_last_four_linked_sessions_are_partial(sets, expected):
    assert len(find_cut_short(look(on_days(5), *weekly_logs(*sets), on="2026-02-02"))) == expected


@pytest.mark.parametrize(("minutes", "client_minutes", "expected"), [("39", "30", 1), ("38", "30", 0), ("39", "", 0)])
def test_cut_short_when_they_take_thirty_percent_more_minutes_than_the_client_has(minutes, client_minutes, expected):
    logs = weekly_logs(*[WHOLE] * 4, minutes=minutes)

    assert len(find_cut_short(look(on_days(4), *logs, on="2026-02-02", minutes=client_minutes))) == expected


@pytest.mark.parametrize(("on", "expected"), [("2026-01-14", 0), ("2026-01-15", 1), ("2026-03-01", 1)])
def test_plan_runs_out_from_the_thursday_of_the_last_planned_week(on, expected):
    assert len(find_plan_runs_out(look(on_days(2), on=on))) == expected


def test_plan_runs_out_waits_for_the_end_of_a_pause():
    assert find_plan_runs_out(look(on_days(2), on="2026-01-15", pauses="2026-01-15..2026-01-15")) == []


def test_somebody_without_a_plan_has_none_to_run_out():
    assert find_plan_runs_out(look([], on="2026-01-15")) == []
