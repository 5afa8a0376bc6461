"""Who is drifting away: silent, quiet, not started, a week gone, early days."""

from __future__ import annotations

import pytest

from analytics.findings_schema import Kind
from tests.analytics.answers import findings, found, turnout
from tests.analytics.frames import assessed, client, log, session, weekly, weekly_logs

MET = "8@20 8@20 8@20"


def found_on(day: str, *trained: bool, **about) -> str | None:
    """The turnout finding when the first sessions were trained or not, as told, and none after them."""
    plan = weekly(*["3x8@20"] * 20, every=3)
    logs = weekly_logs(*(MET if one else "" for one in trained), every=3)
    return turnout(assessed(plan, logs, on=day, **about))


@pytest.mark.parametrize(
    ("day", "expected"),
    [("2026-01-18", None), ("2026-01-19", "quiet"), ("2026-02-01", "quiet"), ("2026-02-02", "silent")],
)
def test_quiet_from_fourteen_days_without_a_log_and_silent_from_twenty_eight(day: str, expected: str | None):
    plan = weekly("3x8@20", "3x8@20", "3x8@20", "3x8@20", "3x8@20")

    assert turnout(assessed(plan, weekly_logs(MET), on=day)) == expected


def test_silence_without_a_session_due_since_is_none():
    plan = weekly("3x8@20")

    assert turnout(assessed(plan, weekly_logs(MET), on="2026-03-01")) is None


def test_a_session_done_ahead_of_its_day_is_not_due_since():
    """Next month's session was done on the last day trained: nothing that was asked for since is open."""
    plan = [session(1, "2026-01-05"), session(2, "2026-02-16", week=7)]
    logs = [log("2026-01-05", of=1), log("2026-01-06", of=2)]

    assert turnout(assessed(plan, logs, on="2026-01-25")) is None


def test_paused_days_do_not_count_as_days_without_a_log():
    plan, pauses = weekly(*["3x8@20"] * 5), [("2026-01-07", "2026-01-13")]

    assert turnout(assessed(plan, weekly_logs(MET), on="2026-01-25", pauses=pauses)) is None
    assert turnout(assessed(plan, weekly_logs(MET), on="2026-01-26", pauses=pauses)) == "quiet"


def test_an_extra_session_is_a_log_too():
    plan = weekly(*["3x8@20"] * 5)
    logs = [*weekly_logs(MET), log("2026-01-14", {99: "8@20"})]

    assert turnout(assessed(plan, logs, on="2026-01-27")) == "early"
    assert turnout(assessed(plan, logs, on="2026-01-28")) == "quiet"


@pytest.mark.parametrize(("day", "expected"), [("2026-01-09", None), ("2026-01-10", "not_started")])
def test_not_started_five_days_after_the_first_session_due(day: str, expected: str | None):
    assert found_on(day) == expected


def test_somebody_with_no_log_yet_is_nothing_else():
    """Three sessions in the first three days: all missed on the fourth, and still nothing before the fifth."""
    plan = weekly(*["3x8@20"] * 3, every=1)

    assert turnout(assessed(plan, on="2026-01-09")) is None
    assert turnout(assessed(plan, on="2026-01-10")) == "not_started"
    assert found_on("2026-02-20") == "not_started"


def test_a_first_session_in_a_pause_or_before_joining_is_not_the_first_due():
    assert found_on("2026-01-12", pauses=[("2026-01-05", "2026-01-06")]) is None
    assert found_on("2026-01-13", pauses=[("2026-01-05", "2026-01-06")]) == "not_started"
    assert found_on("2026-01-12", clients=[client(joined="2026-01-07")]) is None


def test_a_week_is_gone_when_the_last_three_due_are_missed_or_overdue():
    """Trained until 7 February; the session of the 16th, the third since, is overdue from the 18th on."""
    trained = [True] * 12

    assert found_on("2026-02-17", *trained) is None
    assert found_on("2026-02-18", *trained) == "week_gone"


def test_early_days_are_less_than_twenty_eight_after_the_first_session_due():
    """The first was on 5 January; those of the 26th and the 27th were missed."""
    plan = [session(number, f"2026-01-{day}") for number, day in ((1, "05"), (2, "26"), (3, "27"))]
    logs = [log("2026-01-05", MET, of=1), log("2026-01-24", {99: "8"})]

    assert [turnout(assessed(plan, logs, on=f"2026-01-{day}")) for day in (28, 29)] == [None, "early"]
    assert [turnout(assessed(plan, logs, on=f"2026-02-0{day}")) for day in (1, 2)] == ["early", None]


def test_early_is_to_watch_and_the_others_to_act_on():
    plan = weekly(*["3x8@20"] * 20, every=3)

    early = assessed(plan, weekly_logs(*[MET] * 3, every=3), on="2026-01-19")
    gone = assessed(plan, weekly_logs(*[MET] * 3, every=3), on="2026-01-22")

    assert (turnout(early), findings(early)["turnout"]) == ("early", "watch")
    assert (turnout(gone), findings(gone)["turnout"]) == ("week_gone", "act")


def test_a_partial_session_and_one_told_without_details_are_no_misses():
    plan = weekly(*["3x8@20"] * 4, every=2)

    assert turnout(assessed(plan, weekly_logs(MET, "", "8@20", "", every=2), on="2026-01-13")) is None
    told = [*weekly_logs(MET, every=2), log("2026-01-09", "", of=3)]
    assert turnout(assessed(plan, told, on="2026-01-13")) is None


def test_never_while_the_day_lies_in_a_pause():
    trained = [True] * 12

    assert found_on("2026-02-19", *trained, pauses=[("2026-02-19", "2026-02-22")]) is None
    assert found_on("2026-02-19", *trained, pauses=[("2026-02-18", "2026-02-18")]) == "week_gone"


def test_only_of_clients_who_are_active():
    assert found_on("2026-02-19", *[True] * 12, clients=[client(is_active=False)]) is None


def test_the_finding_tells_the_days_or_the_sessions_that_made_it_hold():
    plan = weekly(*["3x8@20"] * 20, every=3)

    assert found(assessed(plan, weekly_logs(MET, every=3), on="2026-01-25"), Kind.TURNOUT)["count"] == 20
    assert found(assessed(plan, weekly_logs(*[MET] * 12, every=3), on="2026-02-20"), Kind.TURNOUT)["count"] == 3
    assert found(assessed(plan, on="2026-01-12"), Kind.TURNOUT)["count"] == 7
