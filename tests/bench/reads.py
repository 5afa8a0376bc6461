"""Rows of the record out of the database: as the product reads them, beside Django's own way."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from coaching.monitoring import record_reads
from roster.people.models import Client, Coach
from tests.bench.report import Line
from tests.bench.timing import time_in_turns

ROUNDS = 9
# Of the columns of sets those that are numbers in the database.
NUMBERS = [record_reads.SET_LOGS.names.index(name) for name in ("session_log_id", "exercise_id", "number", "reps")]


def time_reads(coach: Coach) -> Iterator[Line]:
    """Sets from rows to arrays of numbers, by both; the columns that are words stay tuples."""
    ids = list(Client.objects.filter(studio=coach.studio).order_by("pk").values_list("pk", flat=True))
    sets = record_reads.SET_LOGS
    rows = sets.rows(ids)
    if rows != list(sets.queryset(ids)):
        raise RuntimeError("the two readings differ")
    times = time_in_turns(
        {
            "product": lambda: _arrays(sets.columns(ids)),
            "values_list": lambda: _arrays(list(zip(*sets.queryset(ids), strict=True))),
        },
        ROUNDS,
    )
    work = f"{len(rows)} sets of {len(ids)} clients, database to arrays"
    product, orm = times["product"], times["values_list"]
    yield Line(work, "values_list of Django", orm)
    # The goal is that of a reader of Arrow, which the product does without.
    yield Line(work, "product", product, orm, "<= 0.35 of values_list", 0.35)


def _arrays(columns: list[tuple]) -> list[np.ndarray]:
    return [np.asarray(columns[index], dtype=np.int64) for index in NUMBERS]
