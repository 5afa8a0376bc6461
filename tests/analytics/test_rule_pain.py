"""Who hurts, and since when; nothing but a calm report or the coach's word ends it."""

from __future__ import annotations

import pytest

from analytics.findings_schema import Kind
from analytics.flag_thresholds import Thresholds
from tests.analytics.answers import findings, found
from tests.analytics.frames import KNEE, SHOULDER, Log, assessed, client, day_of, log, planned_days

DAYS = planned_days(8, every=2)


def reports(*pains: float, **about) -> list[Log]:
    """A log every second day with a pain report each."""
    return [log(day, pain=pain, **about) for day, pain in zip(DAYS, pains, strict=False)]


def urgency(*pains: float, on: str = "2026-03-01", closings=(), **about) -> str | None:
    return findings(assessed(logs=reports(*pains, **about), on=on, closings=closings)).get("pain")


@pytest.mark.parametrize(
    ("pains", "expected"),
    [
        ([2], None),
        ([3], "watch"),
        ([3, 4], "act"),
        ([3, 3, 3, 3], "act"),
        ([6], "now"),
        ([6, 3], "now"),
        ([6, 2, 3], "watch"),
        ([6, 2], None),
        ([3, 3, 0], None),
        ([1, 1, 1], "watch"),
        ([1, 1], None),
        ([1, 0, 1, 1], None),
        ([4, 2, 1], "watch"),
    ],
)
def test_reports_from_the_latest_back_to_the_first_of_at_most_two(pains: list[float], expected: str | None):
    assert urgency(*pains) == expected


def test_silence_never_ends_it():
    assert urgency(4, on="2027-01-05") == "watch"


def test_logs_without_a_report_say_nothing():
    later = [log(day) for day in DAYS[1:]]

    assert findings(assessed(logs=[*reports(4), *later], on="2026-03-01"))["pain"] == "watch"


def test_reports_of_one_day_are_in_the_order_they_were_made():
    calm, hurting = log(DAYS[0], pain=1), log(DAYS[0], pain=4)

    assert findings(assessed(logs=[hurting, calm], on=DAYS[0])) == {}
    assert findings(assessed(logs=[calm, hurting], on=DAYS[0])) == {"pain": "watch"}


def test_an_alarm_symptom_is_now_and_never_calm():
    alarm = log(DAYS[1], is_alarm=True)

    assert findings(assessed(logs=[*reports(3), alarm], on=DAYS[1])) == {"pain": "now"}
    assert findings(assessed(logs=[alarm, log(DAYS[2], pain=0)], on=DAYS[2])) == {}


def test_the_subject_is_the_latest_region_named_within_the_reports_taken_together():
    logs = [log(DAYS[0], pain=4, region=KNEE), log(DAYS[1], pain=4, region=SHOULDER), log(DAYS[2], pain=4)]

    pain = found(assessed(logs=logs, on=DAYS[2]), Kind.PAIN)

    assert (pain["subject"], pain["count"]) == (SHOULDER, 3)


def test_a_region_of_an_earlier_pain_that_ended_is_not_the_subject():
    logs = [log(DAYS[0], pain=4, region=KNEE), log(DAYS[1], pain=0), log(DAYS[2], pain=4)]

    assert found(assessed(logs=logs, on=DAYS[2]), Kind.PAIN)["subject"] == -1


def test_nor_is_that_of_the_calm_report_before():
    logs = [log(DAYS[0], pain=0, region=KNEE), log(DAYS[1], pain=4)]

    assert found(assessed(logs=logs, on=DAYS[1]), Kind.PAIN)["subject"] == -1


def test_a_calm_report_ends_it_whatever_its_region():
    logs = [log(DAYS[0], pain=4, region=KNEE), log(DAYS[1], pain=1, region=SHOULDER)]

    assert findings(assessed(logs=logs, on=DAYS[1])) == {}


def test_it_opened_with_the_first_report_of_the_run():
    pain = found(assessed(logs=reports(1, 4, 4), on="2026-03-01"), Kind.PAIN)

    assert pain["opened_day"] == day_of(DAYS[1])


def test_the_coach_s_close_ends_it():
    closed = [(DAYS[2], 2)]

    assert urgency(4, 4, closings=closed, on=DAYS[1]) == "act"
    assert urgency(4, 4, closings=closed, on=DAYS[2]) is None


def test_a_report_after_the_close_is_a_new_one():
    pain = found(assessed(logs=reports(4, 4, 4, 3), on="2026-03-01", closings=[(DAYS[2], 3)]), Kind.PAIN)

    assert pain["count"] == 1
    assert pain["opened_day"] == day_of(DAYS[3])


def test_a_report_that_came_in_after_the_close_of_the_same_day_is_a_new_one_too():
    morning, evening = log(DAYS[0], pain=4), log(DAYS[0], pain=8)

    def told(*logs: Log) -> dict[str, str]:
        return findings(assessed(logs=logs, on=DAYS[0], closings=[(DAYS[0], 1)]))

    assert told(morning) == {}
    assert told(morning, evening) == {"pain": "now"}


def test_one_client_s_close_closes_nobody_else_s():
    logs = [log(DAYS[0], pain=4, client=1), log(DAYS[0], pain=4, client=2)]

    told = assessed(logs=logs, on=DAYS[3], clients=[client(1), client(2)], closings=[(DAYS[1], 2)])

    assert told.findings.to_frame()[["client_row", "kind"]].to_numpy().tolist() == [[1, Kind.PAIN]]


def test_a_studio_may_set_the_bounds_otherwise():
    thresholds = Thresholds(pain_safe=3, pain_high=4, pain_act_reports=3)

    def told(*pains: float) -> str | None:
        return findings(assessed(logs=reports(*pains), on="2026-03-01", thresholds=thresholds)).get("pain")

    assert told(3) is None
    assert told(3.5, 3.5) == "watch"
    assert told(5) == "now"
