"""The calculations beside tuned Polars, idiomatic pandas and the least that could be done: answers, then times."""

from __future__ import annotations

from collections.abc import Iterator

import pandas as pd

from analytics.assessment import assess
from analytics.frame_schema import Record
from tests.bench import weekly
from tests.bench.agreement import assert_agree
from tests.bench.one_client import only_client
from tests.bench.pandas_peer import pandas_tables
from tests.bench.polars_peer import polars_frames, polars_tables, told_by_polars
from tests.bench.product import product_tables, told_by_ids
from tests.bench.report import Line
from tests.bench.timing import time_in_turns

TABLES = "links, sessions, weeks, exposures"


def compare_all_tables(record: Record, rounds: int) -> Iterator[Line]:
    of_polars, of_pandas = polars_frames(record), record.to_frames()
    expected = told_by_ids(product_tables(record))
    assert_agree(told_by_polars(polars_tables(of_polars)), expected)
    assert_agree(pandas_tables(of_pandas), expected)
    times = time_in_turns(
        {
            "product": lambda: product_tables(record), "polars": lambda: polars_tables(of_polars),
            "pandas": lambda: pandas_tables(of_pandas), "findings too": lambda: assess(record),
        },
        rounds,
    )
    product, polars, pandas = times["product"], times["polars"], times["pandas"]
    yield Line(TABLES, "pandas, idiomatic", pandas)
    yield Line(TABLES, "Polars, tuned", polars, pandas, "<= 0.6 of pandas", 0.6)
    yield Line(TABLES, "product", product, polars, "<= 0.7 of Polars", 0.7)
    yield Line(TABLES, "product", product, pandas, "<= 0.35 of pandas", 0.35)
    yield Line("the same and findings", "product", times["findings too"])


def compare_one_client(record: Record, rounds: int) -> Iterator[Line]:
    of_one = only_client(record, int(record.clients["client_id"][len(record.clients) // 2]))
    of_pandas = of_one.to_frames()
    assert_agree(pandas_tables(of_pandas), told_by_ids(product_tables(of_one)))
    times = time_in_turns(
        {
            "product": lambda: product_tables(of_one), "pandas": lambda: pandas_tables(of_pandas),
            "findings too": lambda: assess(of_one),
        },
        rounds, calls=3,
    )
    product, pandas = times["product"], times["pandas"]
    yield Line("the same, one client", "pandas, idiomatic", pandas)
    yield Line("the same, one client", "product", product, pandas, "<= 0.1 of pandas", 0.1)
    yield Line("the same and findings, one client", "product", times["findings too"])


def compare_weekly(record: Record, rounds: int) -> Iterator[Line]:
    of_polars, of_pandas = polars_frames(record), record.to_frames()
    expected = weekly.by_kernel(record)
    by_polars = weekly.by_polars(of_polars)
    for told in (pd.DataFrame({column.name: column.to_numpy() for column in by_polars}), weekly.by_pandas(of_pandas)):
        pd.testing.assert_frame_equal(told[expected.columns].astype("int64"), expected)
    times = time_in_turns(
        {
            "kernel": lambda: weekly.by_kernel(record), "polars": lambda: weekly.by_polars(of_polars),
            "pandas": lambda: weekly.by_pandas(of_pandas), "floor": lambda: weekly.floor(record),
        },
        rounds, calls=3,
    )
    kernel, polars, floor = times["kernel"], times["polars"], times["floor"]
    yield Line("grams and sets a week", "reps x load, added up", floor)
    yield Line("grams and sets a week", "pandas, idiomatic", times["pandas"])
    yield Line("grams and sets a week", "Polars, tuned", polars)
    yield Line("grams and sets a week", "product's joins and sums", kernel, polars, "<= 0.6 of Polars", 0.6)
    yield Line("grams and sets a week", "product's joins and sums", kernel, floor, "<= 10 of the sum", 10)
