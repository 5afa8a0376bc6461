"""Which days lie in a pause, against sets of days."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from analytics.frame_schema import build_frame
from analytics.pause_days import PauseDays
from tests.analytics.frames import client, day_of, record

CLIENT_IDS = [70, 7, 41]
# Client, first day, days after it.
PAUSES = st.lists(st.tuples(st.sampled_from([*CLIENT_IDS, 99]), st.integers(-5, 25), st.integers(0, 9)), max_size=8)
FIRST, LAST = -8, 40


def pause_days(pauses: list[tuple[int, int, int]]) -> tuple[PauseDays, list[set[int]]]:
    """Pauses as they are asked, and the paused days of each client in the order of `clients`."""
    frame = build_frame("pauses", {
        "client_id": [one for one, _, _ in pauses], "from_day": [first for _, first, _ in pauses],
        "until_day": [first + more for _, first, more in pauses],
    })
    whole = replace(record(on="2026-01-05", clients=[client(pk) for pk in CLIENT_IDS]), pauses=frame)
    days = [{first + day for one, first, more in pauses if one == pk for day in range(more + 1)} for pk in CLIENT_IDS]
    return PauseDays(whole), days


@given(PAUSES)
def test_a_day_is_paused_when_it_lies_in_any_pause(pauses: list[tuple[int, int, int]]):
    paused, expected = pause_days(pauses)

    for row, days in enumerate(expected):
        asked = np.arange(FIRST, LAST)
        told = paused.covers(np.full(asked.size, row), asked)
        assert set(asked[told].tolist()) == days


@given(PAUSES, st.integers(FIRST, LAST), st.integers(0, 40))
def test_days_outside_pauses_are_counted_once_each(pauses: list[tuple[int, int, int]], after: int, more: int):
    paused, expected = pause_days(pauses)
    rows = np.arange(len(CLIENT_IDS))

    told = paused.days_not_paused(rows, np.full(rows.size, after), np.full(rows.size, after + more))

    assert told.tolist() == [len(set(range(after + 1, after + more + 1)) - days) for days in expected]


def test_first_and_last_day_belong_to_a_pause():
    paused = PauseDays(record(on="2026-02-01", pauses=[("2026-01-20", "2026-01-26")]))
    days = np.array([day_of(f"2026-01-{day}") for day in (19, 20, 26, 27)])

    assert paused.covers(np.zeros(4, dtype=np.int64), days).tolist() == [False, True, True, False]
