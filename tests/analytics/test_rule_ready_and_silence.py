"""When somebody is ready for the next load, and what open pain silences."""

from __future__ import annotations

import pytest

from analytics.frame_schema import ABSENT, Changed, RepsLeft
from tests.analytics.answers import findings, found_in
from tests.analytics.frames import (
    KNEE,
    SHOULDER,
    SQUAT,
    asked,
    assessed,
    log,
    session,
    weekly,
    weekly_logs,
)

MET, SHORT, FOUR, FIVE = "8@20 8@20 8@20", "8@20 8@20 7@20", " ".join(["8@20"] * 4), " ".join(["8@20"] * 5)
STAGES = ["3x8@20", "3x7@20"]
SHORT_OF = {text: f"{int(text[2]) - 1}@20 9@20 9@20" for text in STAGES}
ROUND = weekly("3x8@20", "4x8@20", "5x8@20")


def test_ready_when_the_last_two_stages_of_a_round_were_met():
    assert found_in(ROUND, SHORT, FOUR, FIVE)["ready"] == "good"
    assert "ready" not in found_in(ROUND, MET, SHORT, FIVE)
    assert "ready" not in found_in(ROUND, MET, FOUR, FOUR)
    assert "ready" not in found_in(ROUND, MET, FOUR)


def test_every_exposure_of_the_two_stages_has_to_be_met():
    plan = weekly("3x8@20", "4x8@20", "4x8@20", "5x8@20")

    assert "ready" in found_in(plan, MET, FOUR, FOUR, FIVE)
    assert "ready" not in found_in(plan, MET, SHORT, FOUR, FIVE)


def test_a_round_of_one_stage_is_ready_when_that_was_met():
    assert "ready" in found_in(weekly("3x8@20"), MET)


def test_the_next_round_clears_ready():
    plan = weekly("3x8@20", "4x8@20", "3x8@24")

    assert "ready" in found_in(plan, MET, FOUR)
    assert "ready" not in found_in(plan, MET, FOUR, "8@24 8@24")


def test_a_deload_is_of_no_round():
    plan = [*weekly("3x8@20", "4x8@20"), session(3, "2026-01-19", asked("2x8@16", changed=Changed.DELOAD))]

    assert "ready" not in found_in(plan, MET, FOUR, "8@16 8@16")


@pytest.mark.parametrize(
    ("about", "is_ready"),
    [
        ({"pain": 0}, True),
        ({"pain": 0.5}, True),
        ({"pain": 1}, False),
        ({"is_alarm": True}, False),
        ({"last_reps_left": RepsLeft.NONE_OR_ONE}, False),
        ({"last_reps_left": RepsLeft.TWO_OR_THREE}, True),
    ],
)
def test_neither_with_pain_nor_with_nothing_left_is_anybody_ready(about: dict, is_ready: bool):
    logs = [*weekly_logs(MET), *weekly_logs("", FOUR, **about), *weekly_logs("", "", FIVE)]

    assert ("ready" in findings(assessed(ROUND, logs, on="2026-01-19"))) == is_ready


def test_pain_in_an_earlier_stage_keeps_nobody_from_being_ready():
    logs = [*weekly_logs(MET, pain=2), *weekly_logs("", FOUR, FIVE)]

    assert "ready" in findings(assessed(ROUND, logs, on="2026-01-19"))


@pytest.mark.parametrize(("region", "is_silent"), [(KNEE, True), (SHOULDER, False)])
def test_open_pain_silences_stall_ready_and_too_easy_of_exercises_tied_to_its_region(region: int, is_silent: bool):
    hurt = log("2026-01-13", {99: "8"}, pain=4, region=region)
    # Stall; ready and too easy.
    plans = [(STAGES, [SHORT_OF[text] for text in STAGES]), (["3x8@20"] * 2, ["8@20 8@20 10@20"] * 2)]

    told: set[str] = set()
    for texts, sets in plans:
        logs = [*weekly_logs(*sets), hurt]
        told |= set(findings(assessed(weekly(*texts), logs, on="2026-01-13", ties=[(SQUAT, KNEE)])))

    assert told & {"stall", "ready", "too_easy"} == (set() if is_silent else {"stall", "ready", "too_easy"})
    assert "pain" in told


@pytest.mark.parametrize("hurts", [{}, {"pain": 4}], ids=["without pain", "pain without a region"])
def test_a_tie_to_no_region_silences_nothing(hurts: dict):
    logs = weekly_logs(*(SHORT_OF[text] for text in STAGES), **hurts)

    assert "stall" in findings(assessed(weekly(*STAGES), logs, on="2026-01-13", ties=[(SQUAT, ABSENT)]))


def test_open_pain_silences_neither_the_step_not_taken_nor_what_is_skipped():
    plan = weekly("3x8@20", "3x8@24", "4x8@24", "4x8@24")
    hurt = log("2026-01-20", {99: "8"}, pain=4, region=KNEE)

    told = findings(assessed(plan, [*weekly_logs(MET, MET, MET), hurt], on="2026-01-20", ties=[(SQUAT, KNEE)]))

    assert "step_not_taken" in told
