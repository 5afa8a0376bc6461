"""The frames that every calculation starts from."""

from __future__ import annotations

import numpy as np
import pytest

from analytics.frame_schema import COLUMNS, Record, build_frame, empty_frame


@pytest.mark.parametrize("name", COLUMNS)
def test_an_empty_frame_has_its_columns_and_types(name: str):
    frame = empty_frame(name)

    assert len(frame) == 0
    assert {column: frame[column].dtype for column in frame} == {
        column: np.dtype(dtype) for column, dtype in COLUMNS[name].items()
    }


def test_a_column_left_out_is_an_error_that_names_it():
    with pytest.raises(KeyError, match="pauses lacks until_day"):
        build_frame("pauses", {"client_id": [1], "from_day": [20]})


def test_columns_take_their_types_whatever_they_are_given_as():
    frame = build_frame("pauses", {"client_id": ["1"], "from_day": (20,), "until_day": np.array([26.0])})

    assert frame.to_dict("records") == [{"client_id": 1, "from_day": 20, "until_day": 26}]


def test_a_record_holds_every_frame():
    assert list(Record.__annotations__) == list(COLUMNS)
