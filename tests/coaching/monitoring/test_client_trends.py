"""Trends of a client from their stored weeks, against the plain twin on invented rosters."""

from __future__ import annotations

from datetime import date, timedelta
from math import isclose

import pytest

from coaching.monitoring.client_trends import ClientTrend, client_trends
from coaching.monitoring.models import WeekFact
from roster.people.models import Coach
from tests.coaching.monitoring.conftest import LoadRoster
from tests.coaching.monitoring.files import load_ana, stand_at, weekly_logs, weekly_plan
from tests.plain_twin.client_day import look_at
from tests.plain_twin.record import Record
from tests.plain_twin.trends import Trend, trend
from tests.rosters.generate import FIRST_MONDAY

pytestmark = pytest.mark.django_db
FIGURES = {"completion": "completion", "dose": "dose", "density": "density_against_plan"}


def trends_of(key: str) -> dict[tuple[str, int], ClientTrend]:
    told = client_trends(list(WeekFact.objects.filter(client__key=key)))
    return {(one.figure, one.window_weeks): one for one in told}


@pytest.mark.parametrize(("seed", "weeks"), [(41, 6), (42, 10), (43, 15), (44, 18)])
def test_trends_are_those_of_the_twin(load_roster: LoadRoster, coach: Coach, seed: int, weeks: int):
    record = load_roster(seed, clients=5, weeks=20)
    day = FIRST_MONDAY + timedelta(weeks=weeks, days=seed % 7)

    stand_at(coach, day.isoformat())

    assert not _differences(record, day)


def _differences(record: Record, day: date) -> list[str]:
    found = []
    for client in record.clients:
        at, told = look_at(client, day), trends_of(client.key)
        for (figure, window), one in told.items():
            expected = trend(at, FIGURES[figure], window)
            if not _is_same(one, expected):
                found.append(f"{client.key} {figure} over {window}: {one}, expected {expected}")
        assert len(told) == 6
    return found


def _is_same(told: ClientTrend, expected: Trend) -> bool:
    return (
        told.verdict == expected.verdict
        and _is_close(told.level, expected.level)
        and _is_close(told.trend, expected.slope)
    )


def _is_close(told: float | None, expected: object) -> bool:
    if told is None or expected is None:
        return told is expected
    return isclose(told, float(expected), rel_tol=1e-9, abs_tol=1e-12)  # type: ignore[arg-type]


def test_somebody_who_does_less_each_week_is_falling(coach: Coach):
    sets = (" ".join(["8@20"] * count) for count in (5, 4, 3, 2, 1))
    load_ana(coach, weekly_plan(*["20"] * 5, sets="5"), *weekly_logs(*sets))

    stand_at(coach, "2026-02-02")

    completion = trends_of("ana")["completion", 12]
    assert (completion.level, completion.trend, completion.verdict) == (0.6, pytest.approx(-0.2), "falling")
    assert trends_of("ana")["density", 12].verdict == "too little to tell"


def test_nobody_s_weeks_are_too_little():
    assert {one.verdict for one in client_trends([])} == {"too little to tell"}
    assert {one.level for one in client_trends([])} == {None}
