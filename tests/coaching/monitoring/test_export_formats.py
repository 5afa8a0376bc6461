"""Exported rows as text: CSV as RFC 4180 has it, JSON with its own types."""

from __future__ import annotations

import csv
import io
import json
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coaching.monitoring.export_formats import FORMATS, to_csv, to_json
from roster.tables.formula_cells import looks_like_a_formula

COLUMNS = ["client", "week", "met", "share", "day", "reason"]
ROW = {"client": "ana", "week": 3, "met": True, "share": 1 / 3, "day": date(2026, 4, 15), "reason": None}
# What a cell of text may hold; a formula's beginning is a matter of its own.
TEXTS = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), max_size=12).filter(
    lambda text: not looks_like_a_formula(text)
)


def read_csv(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


def test_there_are_two_formats():
    assert {"csv": to_csv, "json": to_json} == FORMATS


def test_csv_has_a_header_and_ends_every_line_with_carriage_return_and_line_feed():
    assert to_csv(["a", "b"], [{"a": 1, "b": "x"}, {"b": "y", "a": 2}]) == "a,b\r\n1,x\r\n2,y\r\n"


def test_csv_writes_true_and_false_in_words_dates_as_iso_and_nothing_where_nothing_is_known():
    assert read_csv(to_csv(COLUMNS, [ROW]))[1] == ["ana", "3", "true", repr(1 / 3), "2026-04-15", ""]
    assert read_csv(to_csv(["met"], [{"met": False}])) == [["met"], ["false"]]


@pytest.mark.parametrize("text", ["a,b", 'a "b"', "a\nb", "a\r\nb", ' a ', "ä–漢"])
def test_csv_keeps_commas_quotes_lines_and_letters(text: str):
    assert read_csv(to_csv(["a", "b"], [{"a": text, "b": 1}])) == [["a", "b"], [text, "1"]]


def test_csv_quotes_as_rfc_4180_does():
    assert to_csv(["a"], [{"a": 'b"b,\r\n'}]) == 'a\r\n"b""b,\r\n"\r\n'


@given(st.lists(st.tuples(TEXTS, TEXTS), max_size=5))
def test_csv_is_read_back_as_it_was(rows: list[tuple[str, str]]):
    text = to_csv(["a", "b"], [{"a": first, "b": second} for first, second in rows])

    assert read_csv(text)[1:] == [list(row) for row in rows]


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1"])
def test_text_that_a_spreadsheet_would_take_for_a_formula_is_quoted(text: str):
    assert read_csv(to_csv(["a"], [{"a": text}]))[1] == ["'" + text]


def test_numbers_below_zero_are_no_formulas():
    assert to_csv(["a"], [{"a": -1.5}]) == "a\r\n-1.5\r\n"


def test_json_is_one_array_of_objects_with_types_of_their_own():
    told = json.loads(to_json(COLUMNS, [ROW]))

    assert told == [
        {"client": "ana", "week": 3, "met": True, "share": 1 / 3, "day": "2026-04-15", "reason": None}
    ]
    assert isinstance(told[0]["week"], int)
    assert told[0]["met"] is True


@pytest.mark.parametrize(("value", "expected"), [(None, None), ("", None), (0, 0), (0.0, 0.0), (False, False)])
def test_json_writes_null_for_what_is_empty_and_nothing_else(value: Any, expected: Any):
    told = json.loads(to_json(["a"], [{"a": value}]))[0]["a"]

    assert (told, type(told)) == (expected, type(expected))


def test_json_keeps_letters_and_formulas_as_they_are():
    assert json.loads(to_json(["a"], [{"a": "=ä"}])) == [{"a": "=ä"}]


def test_json_refuses_what_is_no_number():
    with pytest.raises(ValueError, match="Out of range"):
        to_json(["a"], [{"a": float("nan")}])


def test_no_rows_are_a_header_or_an_empty_array():
    assert to_csv(["a", "b"], []) == "a,b\r\n"
    assert json.loads(to_json(["a", "b"], [])) == []
