"""What is known of a planned session whatever the day."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from analytics.frame_schema import Sends, empty_frame
from analytics.history import build_history
from analytics.session_outcomes import NEVER
from tests.analytics.frames import PRESS, SQUAT, asked, client, day_of, log, record, session

MON = "2026-01-05"


def outcome(*exercises, sets: str | dict[int, str] | None = None, **about) -> pd.Series:
    """Of one session on Monday, with a log of it when sets are told."""
    logs = [] if sets is None else [log(MON, sets, of=1, **about.pop("logged", {}))]
    told = build_history(record([session(1, MON, *exercises)], logs, on="2026-02-01", **about))
    return told.outcomes.to_frame().iloc[0]


@pytest.mark.parametrize(
    ("sets", "completion"),
    [
        ({SQUAT: "8@20 8@20 8@20", PRESS: "8@10 8@10"}, 1.0),
        ({SQUAT: "8@20 8@20", PRESS: "8@10"}, 0.6),
        ({SQUAT: "8@20 1@20 0@20", PRESS: "8@10*"}, 0.4),
        ({PRESS: "8@10"}, 0.2),
    ],
)
def test_completion_is_working_sets_over_planned_sets(sets: dict[int, str], completion: float):
    """Three sets of squats and two of presses are planned."""
    assert outcome(asked("3x8@20"), asked("2x8@10", PRESS), sets=sets)["set_completion"] == completion


def test_more_sets_of_one_exercise_make_up_for_none_of_another():
    done = outcome(asked("3x8@20"), asked("2x8@10", PRESS), sets={SQUAT: "8@20 8@20 8@20 8@20 8@20"})

    assert done["counted_sets"] == 3
    assert done["set_completion"] == 0.6


def test_a_swapped_exercise_counts_for_the_one_it_replaced():
    done = outcome(asked("3x8@20"), sets={PRESS: "8@10 8@10 8@10"}, logged={"swapped": {PRESS: SQUAT}})

    assert done["set_completion"] == 1


def test_without_details_completion_is_unknown():
    told = outcome(sets="")

    assert not told["has_details"]
    assert np.isnan(told["set_completion"])
    assert told["performed_day"] == day_of(MON)


def test_without_a_log_nothing_was_performed():
    missed = outcome()

    assert (missed["log_row"], missed["performed_day"], missed["has_details"]) == (-1, NEVER, False)


def test_a_session_that_asks_for_nothing_is_done_once_it_is_logged():
    whole = record([session(1, MON)], [log(MON, of=1)], on=MON)
    nothing_asked = replace(whole, planned_exercises=empty_frame("planned_exercises"))

    assert build_history(nothing_asked).outcomes["set_completion"].tolist() == [1]


def test_a_second_log_adds_nothing_to_a_session():
    plan = [session(1, MON, asked("2x8@20"))]
    logs = [log(MON, "8@20", of=1), log("2026-01-06", "8@20", of=1)]

    done = build_history(record(plan, logs, on="2026-02-01")).outcomes.to_frame().iloc[0]

    assert (done["counted_sets"], done["done_g"]) == (1, 160_000)


def test_dose_caps_each_planned_exercise_and_leaves_out_what_has_no_load():
    planned = [asked("2x10@20"), asked("2x10@10", PRESS), asked("2x10", 99)]

    done = outcome(*planned, sets={SQUAT: "10@30 10@30", PRESS: "10@10", 99: "10@5 10@5"})

    assert done["planned_g"] == 400_000 + 200_000
    assert done["dosed_g"] == 400_000 + 100_000
    assert done["done_g"] == 600_000 + 100_000


@pytest.mark.parametrize(
    ("about", "is_excused"),
    [
        ({}, False),
        ({"pauses": [(MON, MON)]}, True),
        ({"pauses": [("2026-01-06", "2026-01-09")]}, False),
        ({"clients": [client(joined=MON)]}, False),
        ({"clients": [client(joined="2026-01-06")]}, True),
    ],
)
def test_a_session_is_excused_in_a_pause_and_before_joining(about: dict, is_excused: bool):
    assert outcome(**about)["is_excused"] == is_excused


@pytest.mark.parametrize(
    ("sends", "missed_from"),
    [(Sends.EACH, "2026-01-12"), (Sends.WEEKLY, "2026-01-14"), (Sends.BLOCK, "2026-02-04")],
)
def test_missed_from_the_day_after_the_last_that_the_way_of_sending_allows(sends: Sends, missed_from: str):
    """Past Sunday; two days later for who sends weekly; two days after the block's last Sunday, 1 February."""
    plan = [session(1, MON, block_end="2026-02-01")]

    known = build_history(record(plan, on=MON, clients=[client(sends=sends)])).outcomes.to_frame().iloc[0]

    assert known["missed_from_day"] == day_of(missed_from)
    assert known["waited_from_day"] == day_of("2026-01-07")
