"""What would hold if an exposure were the latest, once for every exposure."""

from __future__ import annotations

from analytics.exercise_states import Exercises, ExposureStates, LandingStates
from analytics.findings_schema import Urgency
from analytics.history import History, build_history
from tests.analytics.frames import PRESS, SQUAT, asked, client, day_of, log, record, session, weekly, weekly_logs

NOTHING = -1
SHORT, MET = "8@20 8@20 7@20", "8@20 8@20 8@20"


def history(*sets: str) -> History:
    return build_history(record(weekly(*["3x8@20"] * len(sets)), weekly_logs(*sets), on="2026-12-31"))


def test_every_exercise_ever_planned_for_a_client_is_there_with_its_last_day():
    plan = [
        session(1, "2026-01-05", asked(exercise=PRESS), client=2), session(2, "2026-01-12", asked(exercise=SQUAT)),
        session(3, "2026-01-05", asked(exercise=SQUAT)),
    ]

    told = Exercises(build_history(record(plan, on="2026-01-01", clients=[client(1), client(2)])))

    assert told.client.tolist() == [0, 1]
    assert told.exercise_id.tolist() == [SQUAT, PRESS]
    assert told.last_day.tolist() == [day_of("2026-01-12"), day_of("2026-01-05")]


def test_a_landing_knows_at_each_exposure_how_far_a_stall_is():
    past = history(SHORT, MET, SHORT, SHORT, SHORT)

    told = LandingStates(past, Exercises(past))

    assert told.stall_urgency.tolist() == [NOTHING, NOTHING, NOTHING, Urgency.ACT, Urgency.ACT]
    assert told.short_in_a_row.tolist() == [1, 0, 1, 2, 3]
    assert told.weeks_at_stage.tolist() == [1, 2, 3, 4, 5]


def test_states_are_by_exercise_and_then_by_time():
    plan = [session(1, "2026-01-05", asked(exercise=PRESS), asked()), session(2, "2026-01-12", asked(exercise=PRESS))]
    logs = [log("2026-01-05", {PRESS: MET, SQUAT: SHORT}, of=1), log("2026-01-12", {PRESS: MET}, of=2)]
    past = build_history(record(plan, logs, on="2026-12-31"))

    rows = LandingStates(past, Exercises(past)).row

    told = past.exposures.to_frame().iloc[rows]
    assert told["exercise_id"].tolist() == [SQUAT, PRESS, PRESS]
    assert told["performed_day"].tolist() == [day_of("2026-01-05"), day_of("2026-01-05"), day_of("2026-01-12")]


def test_exposures_count_how_many_of_the_last_four_were_skipped():
    days = ["2026-01-05", "2026-01-12", "2026-01-19", "2026-01-26", "2026-02-02"]
    plan = [session(number, day, asked(), asked("1x8", PRESS)) for number, day in enumerate(days, start=1)]
    skipped = weekly_logs(*({PRESS: "8", SQUAT: MET if number == 1 else ""} for number in range(5)))
    past = build_history(record(plan, skipped, on="2026-12-31"))

    told = ExposureStates(past, Exercises(past))

    assert told.skipped[: len(days)].tolist() == [1, 1, 2, 3, 3]
    assert told.is_skipping[: len(days)].tolist() == [False, False, False, True, True]
