"""What a finding is: a kind and a subject about one client, with an urgency, as at one day."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from enum import IntEnum

import numpy as np

from analytics.sorted_keys import Bools, Ints
from analytics.table import Table

NO_SUBJECT = -1


class Kind(IntEnum):
    PAIN = 0
    TURNOUT = 1
    STALL = 2
    STEP_NOT_TAKEN = 3
    SKIPS_IT = 4
    CUT_SHORT = 5
    NO_STEP = 6
    PLAN_RUNS_OUT = 7
    TOO_EASY = 8
    READY = 9
    CHECK_IN_DUE = 10


# Kinds whose subject is an exercise; an episode of theirs is one of that exercise.
EXERCISE_KINDS = (Kind.STALL, Kind.STEP_NOT_TAKEN, Kind.SKIPS_IT, Kind.NO_STEP, Kind.TOO_EASY, Kind.READY)


def is_one_of(kind: Ints, kinds: Collection[int]) -> Bools:
    """Which of the findings' kinds are among `kinds`."""
    is_among = np.zeros(len(Kind), dtype=np.bool_)
    is_among[[int(one) for one in kinds]] = True
    return is_among[kind]


def is_of_exercise(findings: Table) -> Bools:
    """Which of the findings have an exercise for their subject."""
    return is_one_of(findings["kind"], EXERCISE_KINDS)


class Urgency(IntEnum):
    NOW = 0
    ACT = 1
    WATCH = 2
    GOOD = 3


class Turnout(IntEnum):
    """Which of the turnout conditions holds, in the order in which they are asked."""

    SILENT = 0
    QUIET = 1
    NOT_STARTED = 2
    WEEK_GONE = 3
    EARLY = 4


@dataclass(frozen=True)
class Cases:
    """Questions asked at once: what holds for the client in row `client_row` as at `day`?"""

    client_row: Ints
    day: Ints

    def __len__(self) -> int:
        return self.day.size


# Findings by column; see `found`. Arrays, because a handful of rows is gathered many times over.
Found = dict[str, Ints]


def found(
    kind: Kind, cases: Cases, case: Ints, *, subject: Ints | int, urgency: Ints | int, row: Ints, count: Ints | int
) -> Found:
    """Findings of one kind, by column: case, client_row, day, kind, subject, urgency, row, count.

    `row` points at the evidence (in exposures, pain reports, planned sessions or check-in calls, by kind); `count` is
    the figure that made the rule hold.
    """
    size = case.size
    return {
        "case": case,
        "client_row": cases.client_row[case],
        "day": cases.day[case],
        "kind": np.full(size, int(kind), dtype=np.int64),
        "subject": np.broadcast_to(np.asarray(subject, dtype=np.int64), size),
        "urgency": np.broadcast_to(np.asarray(urgency, dtype=np.int64), size),
        "row": row,
        "count": np.broadcast_to(np.asarray(count, dtype=np.int64), size),
    }


def all_found(parts: Sequence[Found]) -> Found:
    """The findings of several kinds, one after the other."""
    return {name: np.concatenate([part[name] for part in parts]) for name in parts[0]}
