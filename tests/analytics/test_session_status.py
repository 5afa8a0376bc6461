"""What became of every planned session, as at a day."""

from __future__ import annotations

import numpy as np
import pytest

from analytics.flag_thresholds import Thresholds
from analytics.frame_schema import Sends
from tests.analytics.answers import statuses
from tests.analytics.frames import asked, assessed, client, log, session

MON, SUNDAY, NEXT_MON = "2026-01-05", "2026-01-11", "2026-01-12"
FIVE_SETS = [asked("5x8@20")]


def status(on: str, *logs, sends: Sends = Sends.EACH, block_end: str = SUNDAY, **about) -> str:
    about.setdefault("clients", [client(sends=sends)])
    plan = [session(1, MON, *FIVE_SETS, block_end=block_end)]
    return statuses(assessed(plan, logs, on=on, **about))[1]


@pytest.mark.parametrize(
    ("sets", "expected"),
    [("8@20 8@20 8@20 8@20", "done"), ("8@20 8@20 8@20", "partial"), ("0@20", "partial"), ("", "told")],
)
def test_a_log_makes_a_session_done_from_four_fifths_of_its_sets_else_partial_or_told(sets: str, expected: str):
    assert status(MON, log(MON, sets, of=1)) == expected


def test_a_log_of_a_later_day_is_not_known_yet():
    assert status("2026-01-06", log("2026-01-08", of=1)) == "to_come"
    assert status("2026-01-08", log("2026-01-08", of=1)) == "partial"


@pytest.mark.parametrize(
    ("sends", "days"),
    [
        (Sends.EACH, {"2026-01-06": "to_come", "2026-01-07": "overdue", SUNDAY: "overdue", NEXT_MON: "missed"}),
        (Sends.WEEKLY, {"2026-01-06": "to_come", "2026-01-07": "awaited", "2026-01-13": "awaited",
                        "2026-01-14": "missed"}),
        (Sends.BLOCK, {"2026-01-06": "to_come", "2026-01-07": "awaited", "2026-02-03": "awaited",
                       "2026-02-04": "missed"}),
    ],
)
def test_without_a_log_it_waits_as_long_as_the_way_of_sending_allows(sends: Sends, days: dict[str, str]):
    told = {day: status(day, sends=sends, block_end="2026-02-01") for day in days}

    assert told == days


def test_a_session_of_sunday_is_missed_before_it_would_be_overdue():
    plan = [session(1, SUNDAY)]

    assert statuses(assessed(plan, on=SUNDAY)) == {1: "to_come"}
    assert statuses(assessed(plan, on=NEXT_MON)) == {1: "missed"}


def test_in_a_pause_and_before_joining_it_is_not_due_whatever_the_day():
    paused, newcomer = [(MON, MON)], [client(joined="2026-01-06")]

    assert status("2026-01-01", pauses=paused) == "not_due"
    assert status("2026-03-01", pauses=paused) == "not_due"
    assert status("2026-03-01", clients=newcomer) == "not_due"


def test_a_log_counts_within_a_pause_and_before_joining_too():
    assert status(MON, log(MON, "", of=1), pauses=[(MON, MON)]) == "told"
    assert status(MON, log(MON, "", of=1), clients=[client(joined="2026-01-06")]) == "told"


def test_due_is_everything_but_awaited_not_due_and_to_come():
    days = {"missed": NEXT_MON, "overdue": SUNDAY, "to_come": MON}

    due = {name: assessed([session(1, MON)], on=day).statuses["is_due"].tolist() for name, day in days.items()}
    awaited = assessed([session(1, MON)], on=SUNDAY, clients=[client(sends=Sends.WEEKLY)])
    done = assessed([session(1, MON)], [log(MON, of=1)], on=MON, pauses=[(MON, MON)])

    assert due == {"missed": [True], "overdue": [True], "to_come": [False]}
    assert awaited.statuses["is_due"].tolist() == [False]
    assert done.statuses["is_due"].tolist() == [True]


def test_completion_is_nothing_for_missed_and_overdue_and_unknown_where_nothing_is_known():
    def completion(on: str, *logs, **about) -> float:
        return assessed([session(1, MON, *FIVE_SETS)], logs, on=on, **about).statuses["set_completion"][0]

    assert completion(SUNDAY) == completion(NEXT_MON) == 0
    assert completion(NEXT_MON, log(MON, "8@20 8@20", of=1)) == 0.4
    assert np.isnan(completion(MON))
    assert np.isnan(completion(NEXT_MON, log(MON, "", of=1)))
    assert np.isnan(completion(NEXT_MON, pauses=[(MON, MON)]))


@pytest.mark.parametrize(("day", "is_later"), [(SUNDAY, False), (NEXT_MON, True)])
def test_done_later_is_performed_after_its_week_s_sunday(day: str, is_later: bool):
    told = assessed([session(1, MON)], [log(day, of=1)], on="2026-02-01").statuses

    assert told["is_done_later"].tolist() == [is_later]


def test_nothing_is_done_later_before_it_is_done():
    told = assessed([session(1, MON)], [log(NEXT_MON, of=1)], on=SUNDAY).statuses

    assert told.to_frame()[["is_done_later", "performed_day"]].to_numpy().tolist() == [[False, -1]]


def test_a_studio_may_set_the_days_and_the_share_otherwise():
    thresholds = Thresholds(overdue_after_days=3, done_from_completion=0.5, sending_grace_days=0)

    assert status("2026-01-07", thresholds=thresholds) == "to_come"
    assert status(MON, log(MON, "8@20 8@20 8@20", of=1), thresholds=thresholds) == "done"
    assert status(NEXT_MON, sends=Sends.WEEKLY, thresholds=thresholds) == "missed"
