"""Where something stands, as a spreadsheet names it."""

from __future__ import annotations

import pytest
from openpyxl.utils import get_column_letter

from roster.tables.places import Sheet, column_letters, lettered_column


def test_the_letters_of_all_columns_are_those_of_a_spreadsheet():
    assert [column_letters(place) for place in range(16_384)] == [get_column_letter(n) for n in range(1, 16_385)]


@pytest.mark.parametrize(
    ("column", "place"),
    [("load", "cell C7 of “Logs”"), (lettered_column(27), "cell AB7 of “Logs”"), ("reps", "“Logs”")],
)
def test_a_cell_is_named_where_its_column_is_known(column: str, place: str):
    assert Sheet("Logs", {"load": "C"}).cell(7, column) == place
