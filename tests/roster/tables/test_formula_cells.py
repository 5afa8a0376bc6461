"""What would run as a formula is written as text, and read back as it was (ASVS 5.0 1.2.10)."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from roster.tables.formula_cells import guarded, looks_like_a_formula, unguarded

FORMULAS = [
    "=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "\x00=1", "\x01x", "\x7f=", " =1", "\u00a0=1", "\u200b=1",
    "\ufeff=1", "\u2028=1", "＝1+1", "＋1", "－1", "＠x", "﹦1", "﹢1", "﹣1", "﹫x", "−1", "⁼1", "₊1", "⁻1",
    " " * 80 + "=1",
]  # fmt: skip
TEXTS = ["", "a", "a=1", "8-10", "–5", "1", "'", "''", "'a", "#N/A", "(1)", '"=1"', "ß", "漢", "  a", "*", "/"]


@pytest.mark.parametrize("text", FORMULAS)
def test_what_begins_like_a_formula_is_led_by_an_apostrophe(text: str):
    assert guarded(text) == "'" + text


@pytest.mark.parametrize("text", TEXTS)
def test_other_text_is_left_as_it_is(text: str):
    assert (guarded(text), unguarded(text)) == (text, text)


@given(st.text())
@example("'=1")
@example("''=1")
@example("'''")
def test_what_was_written_is_read_back(text: str):
    assert unguarded(guarded(text)) == text
    assert not looks_like_a_formula(guarded(text))
