from __future__ import annotations

import pytest

from tests.plain_twin.findings_loads import find_on_landing
from tests.plain_twin.small_files import asked, done, look

MET, SHORT = "8@20 8@20 8@20", "8@20 8@20 7@20"
DAYS = ["2026-01-05", "2026-01-12", "2026-01-19", "2026-01-26", "2026-02-02"]


def weekly(*stages: dict) -> list[dict]:
    """Squat once a week, 3 x 8 @ 20 kg but for what is said."""
    return [asked(**{"week": str(week), **stage}) for week, stage in enumerate(stages, start=1)]


def found(plan: list[dict], *sets: str, on: str | None = None, **cells: str) -> dict[str, str]:
    """Kinds with their urgencies on the day of the last log; the n-th log is of the n-th week."""
    logs = [done(DAYS[index], text, names=f"{index + 1} A", **cells) for index, text in enumerate(sets)]
    at = look(plan, *logs, on=on or DAYS[len(sets) - 1])
    return {finding.kind: finding.urgency for finding in find_on_landing(at, "squat", is_muted=False)}


THREE_STAGES = [{"sets": 3}, {"sets": 4, "changed": "sets"}, {"sets": 4, "reps": "10", "changed": "reps"}]


@pytest.mark.parametrize(
    ("sets", "urgency"),
    [
        ([SHORT], None),
        ([SHORT, SHORT], "watch"),
        ([SHORT, SHORT, SHORT], "act"),
        ([SHORT, "8@20 8@20 8@20 8@20", SHORT], None),
    ],
)
def test_stall_at_two_short_exposures_running_and_act_at_three(sets, urgency):
    assert found(weekly(*THREE_STAGES), *sets).get("stall") == urgency


def test_stall_when_a_stage_is_short_in_the_second_round_too():
    plan = weekly({"sets": 3}, {"sets": 4}, {"sets": 3})

    assert found(plan, SHORT, "8@20 8@20 8@20 8@20", SHORT).get("stall") == "act"


def test_stall_looks_at_the_present_landing_only():
    plan = weekly({"load": "16"}, {"load": "20", "sets": 4})

    assert "stall" not in found(plan, "8@16 8@16 7@16", "8@20 8@20 7@20")


def test_nothing_is_found_once_the_exercise_is_no_longer_live():
    plan = weekly({}, {})

    assert "stall" in found(plan, SHORT, SHORT, on="2026-01-25")
    assert found(plan, SHORT, SHORT, on="2026-01-26") == {}


def test_step_not_taken_stands_in_place_of_stall():
    plan = weekly({"load": "16"}, {"load": "20"}, {"load": "20"})

    kinds = found(plan, "8@16 8@16 8@16", "8@16 8@16 8@16", "8@16 8@16 8@16")

    assert kinds["step_not_taken"] == "act"
    assert "stall" not in kinds


def test_one_set_above_the_old_load_takes_the_step():
    plan = weekly({"load": "16"}, {"load": "20"}, {"load": "20"})

    assert "step_not_taken" not in found(plan, "8@16 8@16 8@16", "8@18 8@16 8@16", "8@16 8@16 8@16")


def test_a_step_down_is_no_step_not_taken():
    plan = weekly({"load": "24"}, {"load": "20"}, {"load": "20"})

    assert "step_not_taken" not in found(plan, "8@24 8@24 8@24", "8@16", "8@16")


def test_no_step_after_three_weeks_of_the_same_sets_reps_and_rest():
    assert "no_step" not in found(weekly({}, {}), MET, MET)
    assert found(weekly({}, {}, {}), MET, MET, MET)["no_step"] == "watch"
    assert "no_step" not in found(weekly({}, {}, {"rest_s": "60"}), MET, MET, MET)


def test_no_step_asks_for_a_turnout_of_three_quarters():
    missed = [asked(day="tue", session="B"), asked(day="tue", week="2", session="B")]

    assert "no_step" not in found([*weekly({}, {}, {}), *missed], MET, MET, MET)
    assert "no_step" in found([*weekly({}, {}, {}), missed[0]], MET, MET, MET)


@pytest.mark.parametrize(
    ("first", "second", "expected"),
    [("10@20", "10@20", "good"), ("10@20", "9@20", None), ("10@20", "11@20", "good")],
)
def test_too_easy_is_two_over_in_the_last_set_twice_running(first, second, expected):
    """Two-for-two: Baechle and Earle, Essentials of Strength Training and Conditioning."""
    sets = [f"8@20 8@20 {last}" for last in (first, second)]

    assert found(weekly({}, {"rest_s": "60"}), *sets).get("too_easy") == expected


def test_ready_when_the_round_s_last_two_stages_were_met():
    plan = weekly({"sets": 3}, {"sets": 4}, {"sets": 4, "rest_s": "50"})
    four = "8@20 8@20 8@20 8@20"

    assert found(plan, SHORT, four, four)["ready"] == "good"
    assert "ready" not in found(plan, MET, four)
    assert "ready" not in found(plan, MET, SHORT, four)


def test_ready_waits_while_a_session_of_the_last_two_stages_hurt():
    plan = weekly({"sets": 3}, {"sets": 4})
    sets = [MET, "8@20 8@20 8@20 8@20"]

    assert "ready" in found(plan, *sets, pain="0")
    assert "ready" not in found(plan, *sets, pain="1")


def test_a_single_stage_is_a_round_s_last():
    assert "ready" in found(weekly({}), MET)
