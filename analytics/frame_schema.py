"""The tables that every calculation starts from, and the integer codes in them.

Days are integers (days since 1970-01-01), loads whole grams, exercises, sessions and clients ids of any size in any
order. A number that is not known is NaN, an id that is not there is -1. No table needs to be sorted.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from enum import IntEnum
from functools import cached_property

import numpy as np
import pandas as pd

from analytics.sorted_keys import ABSENT as ABSENT
from analytics.sorted_keys import Ints, positions_of
from analytics.table import Table

# Codes of a load that is no mass; named bands follow below, -2, -3 and so on.
BODY_WEIGHT = -1


class Sends(IntEnum):
    EACH = 0
    WEEKLY = 1
    BLOCK = 2


class Measure(IntEnum):
    REPS = 0
    SECONDS = 1
    METRES = 2


class Changed(IntEnum):
    NONE = 0
    SETS = 1
    REPS = 2
    REST = 3
    LOAD = 4
    DELOAD = 5


class Standing(IntEnum):
    """What a log is to the plan: a session's log, a second one of it, or an extra session."""

    FIRST = 0
    SECOND = 1
    EXTRA = 2


class Status(IntEnum):
    DONE = 0
    PARTIAL = 1
    TOLD = 2
    MISSED = 3
    OVERDUE = 4
    AWAITED = 5
    NOT_DUE = 6
    TO_COME = 7


class Reason(IntEnum):
    """Why an exposure was not met; REST_OVER is a remark on one that was."""

    NONE = 0
    NOT_LOGGED = 1
    LOAD_BELOW = 2
    SETS_SHORT = 3
    OTHER_LOAD = 4
    REPS_SHORT = 5
    REST_OVER = 6


class RepsLeft(IntEnum):
    UNKNOWN = -1
    NONE_OR_ONE = 0
    TWO_OR_THREE = 1
    FOUR_OR_MORE = 2


COLUMNS: dict[str, dict[str, type | str]] = {
    # as_of_day may differ from client to client: each has their own today.
    "clients": {
        "client_id": np.int64, "as_of_day": np.int64, "joined_day": np.int64, "sends": np.int64,
        "minutes": np.float64, "is_active": bool,
    },
    "pauses": {"client_id": np.int64, "from_day": np.int64, "until_day": np.int64},
    # week counts from 1 in the block; block_end_day is the block's last Sunday.
    "planned_sessions": {
        "session_id": np.int64, "client_id": np.int64, "block_id": np.int64, "week": np.int64,
        "suggested_day": np.int64, "block_end_day": np.int64,
    },
    # target_code is equal where the targets of all sets are equal; load_code is grams, or a code below zero.
    "planned_exercises": {
        "planned_id": np.int64, "session_id": np.int64, "position": np.int64, "exercise_id": np.int64,
        "sets": np.int64, "reps": np.int64, "target_code": np.int64, "load_code": np.int64,
        "implements": np.int64, "sides": np.int64, "measure": np.int64, "rest_s": np.float64,
        "changed": np.int64, "tempo_s": np.float64,
    },
    # Only for planned exercises that give every set its own target; number counts from 1.
    "set_targets": {"planned_id": np.int64, "number": np.int64, "reps": np.int64},
    "exercises": {"exercise_id": np.int64, "implements": np.int64, "sides": np.int64},
    "exercise_regions": {"exercise_id": np.int64, "region_code": np.int64},
    # filed rises in the order in which logs came in; given_session_id is a link that the log itself named.
    "session_logs": {
        "log_id": np.int64, "client_id": np.int64, "performed_day": np.int64, "given_session_id": np.int64,
        "filed": np.int64, "has_details": bool, "minutes": np.float64, "effort": np.float64,
    },
    # exercise_id is the exercise done, asked_id the planned one it stands for (the same unless swapped);
    # body_g is the body mass that a rep moves, where a paper gives the share and the client's mass is known.
    "set_logs": {
        "log_id": np.int64, "position": np.int64, "number": np.int64, "exercise_id": np.int64,
        "asked_id": np.int64, "reps": np.int64, "measure": np.int64, "load_code": np.int64,
        "rest_s": np.float64, "is_warm_up": bool, "reps_left": np.int64, "body_g": np.float64,
    },
    # In the order in which they were made; region_code is -1 where none was named.
    "pain_reports": {
        "client_id": np.int64, "log_id": np.int64, "day": np.int64, "order": np.int64, "pain": np.float64,
        "region_code": np.int64, "is_alarm": bool,
    },
    # When a coach closed a client's pain finding: of the day's own reports those up to an order were known by then.
    "pain_closings": {"client_id": np.int64, "day": np.int64, "order": np.int64},
    # A row for each client whose studio has check-in calls: no call is due before begins_day; set_day is the day that
    # was set by hand for the call to come, NaN where its rhythm decides.
    "check_in_plans": {"client_id": np.int64, "begins_day": np.int64, "set_day": np.float64},
    # The calls that were held; due_day is the day for which each had been due.
    "check_ins": {"client_id": np.int64, "due_day": np.int64, "held_day": np.int64},
}


@dataclass(frozen=True)
class Record:
    """What is known of some clients, one or ten thousand; see COLUMNS for what each table holds.

    Frames are taken too, and read into tables.
    """

    clients: Table
    pauses: Table
    planned_sessions: Table
    planned_exercises: Table
    set_targets: Table
    exercises: Table
    exercise_regions: Table
    session_logs: Table
    set_logs: Table
    pain_reports: Table
    pain_closings: Table
    check_in_plans: Table
    check_ins: Table

    def __post_init__(self) -> None:
        for field in fields(self):
            given = getattr(self, field.name)
            if isinstance(given, pd.DataFrame):
                object.__setattr__(self, field.name, Table.of_frame(given))

    def to_frames(self) -> dict[str, pd.DataFrame]:
        return {field.name: getattr(self, field.name).to_frame() for field in fields(self)}

    @cached_property
    def session_row_of_planned(self) -> Ints:
        """For each planned exercise the row of its session: asked for by nearly every calculation."""
        return positions_of(
            self.planned_exercises["session_id"], self.planned_sessions["session_id"]
        )

    @cached_property
    def client_row_of_log(self) -> Ints:
        return positions_of(self.session_logs["client_id"], self.clients["client_id"])


def build_table(name: str, columns: dict[str, object]) -> Table:
    """The columns of COLUMNS[name] with their dtypes; one left out is an error, an empty list an empty column."""
    schema = COLUMNS[name]
    missing = schema.keys() - columns.keys()
    if missing:
        raise KeyError(f"{name} lacks {', '.join(sorted(missing))}")
    return Table({column: np.asarray(columns[column], dtype=dtype) for column, dtype in schema.items()})


def build_frame(name: str, columns: dict[str, object]) -> pd.DataFrame:
    """The same as a frame.

    >>> build_frame("pauses", {"client_id": [1], "from_day": [20], "until_day": [26]}).shape
    (1, 3)
    """
    return build_table(name, columns).to_frame()


def empty_frame(name: str) -> pd.DataFrame:
    return build_frame(name, {column: [] for column in COLUMNS[name]})
