from __future__ import annotations

from fractions import Fraction

import pytest

from tests.plain_twin.planned_figures import planned_minutes, planned_tonnage_kg, row_seconds
from tests.plain_twin.record import PlannedSession
from tests.plain_twin.small_files import asked, look


def session(*plan: dict) -> PlannedSession:
    return look(list(plan), on="2026-01-05").states[0].session


@pytest.mark.parametrize(
    ("sets", "reps", "rest_s", "load", "tonnage_kg", "seconds"),
    [
        (3, "8", "75", "20", 480, 222),
        (4, "8", "75", "20", 640, 321),
        (4, "10", "75", "20", 800, 345),
        (4, "10", "50", "20", 800, 270),
        (3, "8", "75", "22", 528, 222),
    ],
)
def test_the_worked_progression(sets, reps, rest_s, load, tonnage_kg, seconds):
    """Our own worked case: 20 kg through its stages, then 3 x 8 at 22 kg; 3 s a rep."""
    planned = session(asked(sets=sets, reps=reps, rest_s=rest_s, load=load))

    assert (planned_tonnage_kg(planned), row_seconds(planned.exercises[0])) == (tonnage_kg, seconds)


def test_minutes_add_five_of_warm_up_and_one_a_change_of_exercise():
    planned = session(asked(), asked("Row"), asked("Press"))

    assert planned_minutes(planned) == 5 + 2 + 3 * Fraction(222, 60)


def test_each_side_takes_its_own_time_and_its_own_tonnage():
    planned = session(asked(sets=1, reps="8 each"))

    assert (planned_minutes(planned), planned_tonnage_kg(planned)) == (5 + Fraction(48, 60), 320)


def test_seconds_take_themselves():
    assert planned_minutes(session(asked(sets=2, reps="30 s", load="bw"))) == 5 + Fraction(60 + 75, 60)


def test_a_target_for_each_set_is_added_up():
    assert planned_tonnage_kg(session(asked(reps="12-10-8"))) == 600


def test_a_rest_that_nobody_asked_for_leaves_the_minutes_unknown_unless_none_is_needed():
    assert planned_minutes(session(asked(sets=2, rest_s=""))) is None
    assert planned_minutes(session(asked(sets=1, reps="20", rest_s=""))) == 6
