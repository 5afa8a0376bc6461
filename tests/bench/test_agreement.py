"""Before any time is believed: all engines of the bench give the same tables, row by row."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from analytics.frame_schema import Record
from tests.analytics.invented import invented_record
from tests.bench import weekly
from tests.bench.agreement import assert_agree
from tests.bench.one_client import only_client
from tests.bench.pandas_peer import pandas_tables
from tests.bench.polars_peer import polars_frames, polars_tables, told_by_polars
from tests.bench.product import product_tables, told_by_ids
from tests.bench.sizes import draw_record

RECORDS = {
    "forty clients, drawn for the bench": lambda: draw_record(clients=40, weeks=15),
    "one client out of nine": lambda: one_of_nine(),
    "an invented roster": lambda: invented_record(31, week=13, clients=6, weeks=18),
    "another one": lambda: invented_record(32, week=7, clients=6, weeks=18),
}


def one_of_nine() -> Record:
    record = draw_record(clients=9, weeks=15)
    return only_client(record, int(record.clients["client_id"][4]))


@pytest.mark.parametrize("record", RECORDS)
def test_polars_and_pandas_say_what_the_product_says(record):
    record = RECORDS[record]()

    expected = told_by_ids(product_tables(record))

    assert_agree(told_by_polars(polars_tables(polars_frames(record))), expected)
    assert_agree(pandas_tables(record.to_frames()), expected)


def test_grams_and_sets_a_week_are_the_same_by_all():
    record = draw_record(clients=40, weeks=15)
    expected = weekly.by_kernel(record)

    by_polars = pd.DataFrame({name.name: name.to_numpy() for name in weekly.by_polars(polars_frames(record))})
    by_pandas = weekly.by_pandas(record.to_frames())

    pd.testing.assert_frame_equal(by_polars.astype("int64"), expected)
    pd.testing.assert_frame_equal(by_pandas.astype("int64"), expected)


def test_a_figure_that_is_off_by_one_gram_is_told():
    record = draw_record(clients=5, weeks=8)
    expected, off = told_by_ids(product_tables(record)), told_by_ids(product_tables(record))
    off["exposures"].loc[0, "tonnage_g"] += 1

    with pytest.raises(AssertionError, match="tonnage_g"):
        assert_agree(off, expected)


def test_drawn_records_of_one_seed_are_the_same_and_have_gaps_in_their_ids():
    first, second = draw_record(clients=20, weeks=8), draw_record(clients=20, weeks=8)

    assert first.set_logs.to_frame().equals(second.set_logs.to_frame())
    assert (np.diff(first.session_logs["log_id"]) > 1).any()
