"""Every number that a rule uses; a studio may set its own."""

from __future__ import annotations

from dataclasses import fields

import pytest

from analytics.flag_thresholds import Thresholds
from tests.analytics.answers import findings
from tests.analytics.frames import assessed, weekly, weekly_logs


def test_what_a_studio_does_not_set_stays_as_it_is():
    thresholds = Thresholds.with_settings({"quiet_days": 21})

    assert thresholds.quiet_days == 21
    assert all(
        getattr(thresholds, field.name) == field.default for field in fields(Thresholds) if field.name != "quiet_days"
    )


def test_a_name_that_is_none_of_ours_is_an_error_that_tells_it():
    with pytest.raises(KeyError, match="no such threshold: quite_days"):
        Thresholds.with_settings({"quite_days": 21})


def test_a_whole_number_may_be_set_as_a_decimal_one():
    """As a form or a JSON document may hold it."""
    thresholds = Thresholds.with_settings({"quiet_days": 21.0, "done_from_completion": 1})

    assert (thresholds.quiet_days, type(thresholds.quiet_days)) == (21, int)
    assert (thresholds.done_from_completion, type(thresholds.done_from_completion)) == (1.0, float)


@pytest.mark.parametrize("number", [2.5, "two", True, None, float("nan")])
def test_what_is_no_number_of_its_kind_is_an_error_that_tells_it(number: object):
    with pytest.raises(ValueError, match="stall_watch_exposures"):
        Thresholds.with_settings({"stall_watch_exposures": number})  # type: ignore[dict-item]


def test_a_threshold_set_otherwise_changes_the_answer():
    plan, logs = weekly("3x8@20", "3x7@20"), weekly_logs("8@20 8@20 7@20", "6@20 7@20 7@20")

    assert findings(assessed(plan, logs, on="2026-01-12"))["stall"] == "watch"
    stricter = Thresholds.with_settings({"stall_act_exposures": 2})
    assert findings(assessed(plan, logs, on="2026-01-12", thresholds=stricter))["stall"] == "act"
