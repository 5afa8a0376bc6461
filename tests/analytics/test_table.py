"""Tables: columns that nobody writes to, and a frame of their own for whoever asks."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from analytics.frame_schema import Record, empty_frame
from analytics.table import Table

DAYS = Table({"client_id": np.array([1, 1, 2]), "day": np.array([4, 7, 9])})


def test_rows_are_chosen_by_number_or_by_whether_each_is_wanted():
    by_number, by_want = DAYS.rows(np.array([2, 0])), DAYS.rows(np.array([True, False, True]))

    assert by_number.records() == [{"client_id": 2, "day": 9}, {"client_id": 1, "day": 4}]
    assert by_want["day"].tolist() == [4, 9]


def test_a_column_can_be_added_or_taken_the_place_of_and_the_table_stays():
    later = DAYS.with_columns({"day": DAYS["day"] + 1, "is_first": np.array([True, False, True])})

    assert (later.names, later["day"].tolist()) == (["client_id", "day", "is_first"], [5, 8, 10])
    assert (DAYS.names, DAYS["day"].tolist()) == (["client_id", "day"], [4, 7, 9])


def test_no_column_can_be_written_to():
    with pytest.raises(ValueError, match="read-only"):
        DAYS["day"][0] = 0


def test_a_frame_of_it_may_be_changed_and_leads_back_to_it():
    frame = DAYS.to_frame()
    again = Table.of_frame(frame)

    frame.loc[0, "day"] = 0

    assert DAYS["day"].tolist() == again["day"].tolist() == [4, 7, 9]


def test_a_record_takes_frames_and_gives_them():
    frames = {name: empty_frame(name) for name in Record.__annotations__}
    frames["pauses"] = pd.DataFrame({"client_id": [1], "from_day": [20], "until_day": [26]})

    record = Record(**frames)

    assert record.pauses["until_day"].tolist() == [26]
    assert record.to_frames()["pauses"].equals(frames["pauses"])
