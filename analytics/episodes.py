"""What was found about each client in a span of days, also what is over by its end?

An episode is a run of days on which one finding held. It is found by asking the rules about every day of the span, so
that it does not hang on when anybody looked; one that held on the span's first day began when `find_findings` of that
day says.
"""

from __future__ import annotations

from collections.abc import Collection

import numpy as np

from analytics.findings import Rules, episode_subject, opened_days
from analytics.findings_schema import Cases, Found, Kind, all_found
from analytics.sorted_keys import expand_ranges, order_by, run_starts
from analytics.span_figures import Spans
from analytics.table import Table

# Days asked about at once: bounds memory.
DAYS_AT_ONCE = 32
STILL_HOLDS = -1


def find_episodes(rules: Rules, spans: Spans, kinds: Collection[int] = tuple(Kind)) -> Table:
    """A row for each episode, by client, kind, subject and first day.

    The columns are those of a finding as on the last day of the span on which it held (`day`), with opened_day, and
    ended_day, the first day without it (-1: it still held).
    """
    found = _found_on_all_days(rules, spans, kinds)
    order = order_by(found["client_row"], found["kind"], episode_subject(found), found["day"])
    found = {name: column[order] for name, column in found.items() if name != "case"}
    day = found["day"]
    starts = run_starts(found["client_row"], found["kind"], episode_subject(found))
    starts[1:] |= day[1:] != day[:-1] + 1
    first, last = np.flatnonzero(starts), np.flatnonzero(np.roll(starts, -1))
    told = {name: column[last] for name, column in found.items()}
    is_over = told["day"] < spans.last_day[told["client_row"]]
    return Table(
        told
        | {
            "opened_day": _opened_days(rules, {name: column[first] for name, column in found.items()}, spans),
            "ended_day": np.where(is_over, told["day"] + 1, STILL_HOLDS),
        }
    )


def _found_on_all_days(rules: Rules, spans: Spans, kinds: Collection[int]) -> Found:
    longest = int((spans.last_day - spans.first_day).max(initial=0)) + 1
    parts = []
    for start in range(0, longest, DAYS_AT_ONCE):
        from_day = spans.first_day + start
        until_day = np.minimum(from_day + DAYS_AT_ONCE - 1, spans.last_day)
        client_row, day = expand_ranges(from_day, until_day + 1)
        parts.append(rules.find_columns(Cases(client_row, day), kinds))
    return all_found(parts)


def _opened_days(rules: Rules, findings: Found, spans: Spans) -> np.ndarray:
    """The first day of each run; of runs that were there on the span's first day, that of the whole run."""
    opened = findings["day"].copy()
    earlier = np.flatnonzero(opened == spans.first_day[findings["client_row"]])
    if earlier.size:
        opened[earlier] = opened_days(rules, {name: column[earlier] for name, column in findings.items()})
    return opened
