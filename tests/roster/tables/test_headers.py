"""Which columns a file needs."""

from __future__ import annotations

import pytest

from roster.tables.faults import FileRefused
from roster.tables.headers import Columns, match_header

COLUMNS = Columns(
    known=("client", "exercise", "set", "reps"),
    required=("client",),
    detail=("exercise", "set", "reps"),
    required_of_detail=("exercise", "reps"),
)


@pytest.mark.parametrize("names", [["client"], ["client", "exercise", "reps"], ["client", "exercise", "set", "reps"]])
def test_columns_of_detail_are_there_together_or_not_at_all(names: list[str]):
    assert list(match_header(names, COLUMNS, row=1).places) == names


@pytest.mark.parametrize(
    ("names", "missing"),
    [
        (["client", "set"], "columns exercise, reps"),
        (["client", "exercise"], "column reps"),
        (["client", "reps"], "column exercise"),
        (["exercise", "reps"], "column client"),
    ],
)
def test_a_column_of_detail_asks_for_those_that_explain_it(names: list[str], missing: str):
    with pytest.raises(FileRefused, match=f"the header lacks the {missing}$"):
        match_header(names, COLUMNS, row=1)
