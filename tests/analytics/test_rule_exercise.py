"""What is happening with one exercise: stall, step not taken, skipped, no step, too easy."""

from __future__ import annotations

import pytest

from analytics.exercise_states import Exercises, ExposureStates, LandingStates
from analytics.findings_schema import Kind
from analytics.history import build_history
from tests.analytics.answers import findings, found, found_in
from tests.analytics.frames import (
    PRESS,
    SQUAT,
    asked,
    assessed,
    client,
    planned_days,
    record,
    session,
    weekly,
    weekly_logs,
)

MET, SHORT, FOUR = "8@20 8@20 8@20", "8@20 8@20 7@20", "8@20 8@20 8@20 8@20"
# No two weeks of one stage.
STAGES = ["3x8@20", "3x7@20", "3x6@20", "3x5@20", "3x4@20"]
SHORT_OF = {text: f"{int(text[2]) - 1}@20 9@20 9@20" for text in STAGES}
MET_OF = dict.fromkeys(STAGES, "9@20 9@20 9@20")


@pytest.mark.parametrize(
    ("is_met", "urgency"),
    [
        ([False], None),
        ([True, False], None),
        ([False, False], "watch"),
        ([True, False, False], "watch"),
        ([False, False, False], "act"),
        ([False, False, True], None),
        ([False, True, False], None),
    ],
)
def test_stall_is_to_watch_at_two_short_running_and_to_act_on_at_three(is_met: list[bool], urgency: str | None):
    sets = [(MET_OF if met else SHORT_OF)[text] for met, text in zip(is_met, STAGES, strict=False)]

    assert found_in(weekly(*STAGES), *sets).get("stall") == urgency


def test_the_same_stage_short_in_a_second_round_is_to_act_on():
    plan = weekly("3x8@20", "4x8@20", "3x8@20", "4x8@20")

    assert found_in(plan, SHORT, FOUR, SHORT)["stall"] == "act"
    assert "stall" not in found_in(plan, SHORT, FOUR, MET)
    assert "stall" not in found_in(plan, MET, FOUR, SHORT)


def test_only_the_nearest_earlier_one_of_the_stage_counts():
    plan = weekly("3x8@20", "3x8@20", "4x8@20", "3x8@20")

    assert "stall" not in found_in(plan, SHORT, MET, FOUR, SHORT)


def test_stall_looks_at_the_present_landing_only():
    plan = weekly("3x8@20", "3x7@20", "3x8@24", "3x7@24")

    assert "stall" not in found_in(plan, SHORT_OF["3x8@20"], SHORT_OF["3x7@20"], "7@24 8@24 8@24")
    assert found_in(plan, MET, MET, "7@24 8@24 8@24", "6@24 8@24 8@24")["stall"] == "watch"


def test_what_belongs_to_no_landing_is_no_exposure_for_a_stall():
    """Not logged between two short ones: they are still two running."""
    plan = [session(n, day, asked(text), asked("1x8@5", PRESS))
            for n, (day, text) in enumerate(zip(planned_days(3), STAGES, strict=False), start=1)]
    logs = weekly_logs({SQUAT: SHORT_OF["3x8@20"]}, {PRESS: "8@5"}, {SQUAT: SHORT_OF["3x6@20"]})

    told = findings(assessed(plan, logs, on="2026-01-19"))

    assert told["stall"] == "watch"


@pytest.mark.parametrize(("day", "is_live"), [("2026-01-25", True), ("2026-01-26", False)])
def test_an_exercise_is_live_up_to_thirteen_days_after_it_is_planned_last(day: str, is_live: bool):
    told = found_in(weekly(*STAGES[:2]), SHORT_OF["3x8@20"], SHORT_OF["3x7@20"], on=day)

    assert ("stall" in told) == is_live


def test_an_exercise_planned_again_later_is_live():
    plan = [*weekly(*STAGES[:2]), session(3, "2026-06-01")]

    assert "stall" in found_in(plan, SHORT_OF["3x8@20"], SHORT_OF["3x7@20"], on="2026-03-01")


STEPPED = weekly("3x8@20", "3x8@24", "4x8@24", "4x8@24")


@pytest.mark.parametrize(
    ("second", "third", "is_found"),
    [
        (MET, MET, True),
        ("8@20.2", "8@20.2", True),
        (MET, "8@24 8@20", False),
        ("8@22 8@20", MET, False),
        ("8 8 8", MET, True),
    ],
)
def test_step_not_taken_is_no_set_above_the_old_load_in_two_exposures(second: str, third: str, is_found: bool):
    told = found_in(STEPPED, MET, second, third)

    assert told.get("step_not_taken") == ("act" if is_found else None)
    assert ("stall" in told) != is_found


def test_one_exposure_of_a_heavier_landing_is_too_few():
    assert "step_not_taken" not in found_in(STEPPED, MET, MET)


def test_a_lighter_landing_asks_for_no_step():
    assert "step_not_taken" not in found_in(weekly("3x8@24", "3x8@20", "3x8@20"), "8@24", "8@18", "8@18")


def test_the_first_landing_asks_for_no_step():
    assert "step_not_taken" not in found_in(weekly("3x8@20", "3x8@20"), "8@16", "8@16")


def skips_it(*has_squat: bool) -> bool:
    """Squat and press are planned each week; press is always logged."""
    days = planned_days(len(has_squat))
    plan = [session(number, day, asked("1x8@20"), asked("1x8@5", PRESS)) for number, day in enumerate(days, start=1)]
    logs = weekly_logs(*({SQUAT: "8@20" if squat else "", PRESS: "8@5"} for squat in has_squat))
    return "skips_it" in findings(assessed(plan, logs, on=days[-1]))


YES, NO = True, False


@pytest.mark.parametrize(
    ("weeks", "is_found"),
    [
        ([NO, NO], False),
        ([NO, NO, NO], True),
        ([YES, NO, NO, NO], True),
        ([NO, NO, YES, NO], True),
        ([NO, NO, YES, YES], False),
        ([NO, NO, NO, YES, YES], False),
    ],
)
def test_skips_it_is_not_logged_in_three_of_the_last_four_or_in_all_of_three(weeks: list[bool], is_found: bool):
    assert skips_it(*weeks) == is_found


def test_no_step_is_the_same_stage_in_three_weeks_of_the_landing():
    assert "no_step" not in found_in(weekly(*["3x8@20"] * 2), MET, MET)
    assert found_in(weekly(*["3x8@20"] * 3), MET, MET, MET)["no_step"] == "watch"
    assert "no_step" not in found_in(weekly("3x8@20", "3x8@20", "4x8@20"), MET, MET, FOUR)


def test_no_step_counts_weeks_not_sessions():
    plan = weekly(*["3x8@20"] * 3, every=2)

    assert "no_step" not in findings(assessed(plan, weekly_logs(MET, MET, MET, every=2), on="2026-01-10"))


def test_no_step_counts_all_weeks_of_the_stage_on_the_landing():
    plan = weekly("3x8@20", "4x8@20", "3x8@20", "3x8@20")

    assert found_in(plan, MET, FOUR, MET, MET)["no_step"] == "watch"


@pytest.mark.parametrize(("missed", "is_found"), [(1, True), (2, False)])
def test_no_step_speaks_from_a_turnout_of_three_quarters_on(missed: int, is_found: bool):
    extra = [session(10 + number, "2026-01-06", asked(exercise=PRESS)) for number in range(missed)]

    told = found_in([*weekly(*["3x8@20"] * 3), *extra], MET, MET, MET)

    assert ("no_step" in told) == is_found


def test_turnout_for_no_step_is_that_of_eight_weeks():
    long_ago = [session(20 + number, "2025-11-03", asked(exercise=PRESS), block=9) for number in range(5)]
    recently = [session(30 + number, "2025-11-25", asked(exercise=PRESS), block=9) for number in range(5)]
    plan, clients = weekly(*["3x8@20"] * 3), [client(joined="2025-01-01")]

    assert "no_step" in found_in([*plan, *long_ago], MET, MET, MET, clients=clients)
    assert "no_step" not in found_in([*plan, *recently], MET, MET, MET, clients=clients)


@pytest.mark.parametrize(
    ("first", "second", "is_found"), [(10, 10, True), (10, 9, False), (9, 10, False), (11, 12, True)]
)
def test_too_easy_is_the_last_set_two_over_twice_running(first: int, second: int, is_found: bool):
    told = found_in(weekly(*STAGES[:2]), f"8@20 8@20 {first}@20", f"7@20 7@20 {second - 1}@20")

    assert told.get("too_easy") == ("good" if is_found else None)


def test_too_easy_asks_for_met_exposures():
    assert "too_easy" not in found_in(weekly(*STAGES[:2]), "8@20 7@20 12@20", "8@20 6@20 12@20")


def test_findings_name_the_exercise_and_the_latest_exposure():
    told = assessed(weekly(*STAGES[:3]), weekly_logs(*(SHORT_OF[text] for text in STAGES[:3])), on="2026-01-19")

    stall = found(told, Kind.STALL)

    assert (stall["subject"], stall["count"]) == (SQUAT, 3)
    assert told.exposures.to_frame().iloc[stall["row"]]["planned_id"] == 301


def test_states_of_no_exposures_are_empty():
    history = build_history(record(on="2026-01-05"))
    exercises = Exercises(history)

    assert exercises.exercise_id.size == 0
    assert LandingStates(history, exercises).row.size == ExposureStates(history, exercises).row.size == 0
