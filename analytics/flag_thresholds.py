"""Every number that a rule uses, with its default; a studio may set its own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from math import isfinite
from typing import Any


@dataclass(frozen=True)
class Thresholds:
    """Defaults are common practice unless a source is named beside them."""

    # A session is done, not partial, from this share of its planned sets on.
    done_from_completion: float = 0.80
    # Days after the suggested day from which a session is overdue or awaited.
    overdue_after_days: int = 2
    # Days after the week (or the block) that weekly (or block-end) senders have to send.
    sending_grace_days: int = 2
    # A load counts as the prescribed one within one per cent.
    load_tolerance: float = 0.01
    # A mean rest above this multiple of the prescribed one is remarked on.
    rest_over: float = 1.25
    # A gap of this many days makes a return; exposures soon after it belong to no landing.
    return_after_days: int = 14
    return_lasts_days: int = 7
    # An exercise is live while its last planned day is at most this many days back.
    live_days: int = 13
    # Pain, 0 to 10 (after the pain-monitoring model of Thomee 1997, from memory): at most `safe`, above `high`.
    pain_safe: float = 2.0
    pain_high: float = 5.0
    pain_act_reports: int = 2
    pain_lasting_reports: int = 3
    pain_lasting_from: float = 1.0
    # Turnout.
    silent_days: int = 28
    quiet_days: int = 14
    not_started_days: int = 5
    # Three or more consecutive sessions missed: the published "interruption" (Nilsen 2018, Fairman 2020).
    week_gone_sessions: int = 3
    early_days: int = 28
    early_sessions: int = 2
    # Stalls: so many exposures short in a row.
    stall_watch_exposures: int = 2
    stall_act_exposures: int = 3
    step_not_taken_exposures: int = 2
    skipped_exposures: int = 3
    skipped_of_exposures: int = 4
    cut_short_sessions: int = 3
    cut_short_of_sessions: int = 4
    minutes_over: float = 1.30
    # Two repetitions over in the last set of two exposures (Baechle and Earle, the two-for-two rule).
    too_easy_reps: int = 2
    too_easy_exposures: int = 2
    no_step_weeks: int = 3
    no_step_turnout: float = 0.75
    no_step_window_days: int = 55
    ready_pain_from: float = 1.0
    # The plan runs out from this weekday (Monday 0) of its last week on: Thursday.
    plan_runs_out_weekday: int = 3
    # Check-in calls: one every so many days from joining; told so many days ahead, to act on so many after.
    check_in_every_days: int = 28
    check_in_ahead_days: int = 3
    check_in_late_days: int = 7

    @classmethod
    def with_settings(cls, settings: Mapping[str, float]) -> Thresholds:
        """The defaults with what a studio has set otherwise; what is no threshold or no such number is an error."""
        defaults = {field.name: field.default for field in fields(cls)}
        unknown = settings.keys() - defaults.keys()
        if unknown:
            raise KeyError(f"no such threshold: {', '.join(sorted(unknown))}")
        numbers: dict[str, Any] = {name: _like(defaults[name], name, number) for name, number in settings.items()}
        return cls(**numbers)


def _like(default: object, name: str, number: object) -> float:
    """A number of the kind of its default: a count of days or exposures has to be whole."""
    if isinstance(number, int | float) and not isinstance(number, bool) and isfinite(number):
        if not isinstance(default, int):
            return float(number)
        if number == int(number):
            return int(number)
    raise ValueError(f"{name} can't be {number!r}")
