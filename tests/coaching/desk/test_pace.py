"""How long sessions and rests are against what was asked."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest

from coaching.desk.pace import minutes_remark, rest_remark
from coaching.monitoring.models import ExposureFact, LogFact
from roster.logs.models import SessionLog
from tests.coaching.factories import ExposureFactFactory, LogFactFactory, SetLogFactory

DAY = date(2026, 4, 15)


def a_log(days_ago: int, minutes: int | None) -> LogFact:
    performed_on = DAY - timedelta(days=days_ago)
    session_log = SessionLog(performed_on=performed_on, minutes=None if minutes is None else Decimal(minutes))
    return LogFact(performed_on=performed_on, session_log=session_log)


def test_minutes_are_the_median_of_the_last_four_weeks() -> None:
    logs = [a_log(0, 24), a_log(2, 60), a_log(27, 26), a_log(28, 90), a_log(3, None)]

    assert minutes_remark(logs, DAY, 30) == (
        "Sessions take 26 min (the median of 3 in the last 4 weeks; 30 min are there)."
    )


def test_minutes_that_a_client_has_are_left_out_when_unknown() -> None:
    assert minutes_remark([a_log(0, 24)], DAY, None) == "Sessions take 24 min (the median of 1 in the last 4 weeks)."


def test_nothing_is_said_of_minutes_that_nobody_recorded() -> None:
    assert minutes_remark([a_log(0, None), a_log(40, 25)], DAY, 30) == ""


def rests(days_ago: int, recorded: int, asked: int = 60, sets: int = 6) -> tuple[LogFact, ExposureFact]:
    """A session of one exercise, so many sets with the rest recorded."""
    performed_on = DAY - timedelta(days=days_ago)
    exposure = ExposureFactFactory(
        planned_exercise__rest_s=asked,
        planned_exercise__session__suggested_on=performed_on,
        performed_on=performed_on,
    )
    for number in range(1, sets + 1):
        SetLogFactory(session_log=exposure.session_log, exercise=exposure.exercise, position=number, rest_s=recorded)
    return LogFactFactory(session_log=exposure.session_log), exposure


def remark_on(*sessions: tuple[LogFact, ExposureFact]) -> str:
    return rest_remark([log for log, _ in sessions], [exposure for _, exposure in sessions], DAY)


@pytest.mark.parametrize(
    ("recorded", "words"),
    [
        (72, "Rests run 12 s over what was asked (72 s for 60 s, 6 sets in the last 4 weeks)."),
        (45, "Rests run 15 s under what was asked (45 s for 60 s, 6 sets in the last 4 weeks)."),
        (64, "Rests run as asked (64 s for 60 s, 6 sets in the last 4 weeks)."),
    ],
)
def test_rests_are_compared_with_what_was_asked(db: None, recorded: int, words: str) -> None:
    assert remark_on(rests(1, recorded)) == words


def test_drift_is_told_against_the_four_weeks_before(db: None) -> None:
    assert remark_on(rests(1, 90), rests(40, 62)) == (
        "Rests run 30 s over what was asked (90 s for 60 s, 6 sets in the last 4 weeks); "
        "in the 4 weeks before as asked."
    )


def test_a_handful_of_rests_tells_nothing(db: None) -> None:
    assert remark_on(rests(1, 90, sets=5)) == ""


def test_rests_that_nobody_asked_for_are_compared_with_nothing(db: None) -> None:
    log, exposure = rests(1, 90)

    assert rest_remark([log], [], DAY) == ""
