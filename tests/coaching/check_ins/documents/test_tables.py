from __future__ import annotations

import csv
from io import StringIO

import pytest

from coaching.check_ins.content import Part
from coaching.check_ins.documents import csv_of
from roster.tables.formula_cells import unguarded
from tests.coaching.check_ins.documents import months


def rows_of(content: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(content.decode("utf-8-sig"), newline=""), strict=True))


def test_every_figure_is_a_row_with_all_its_digits() -> None:
    pack = months.a_month()

    rows = rows_of(csv_of(pack))

    assert [row["figure"] for row in rows] == [one.key.value for one in pack.figures]
    assert [row["now"] and float(row["now"]) for row in rows] == [one.now for one in pack.figures]
    assert [float(row["before_value"]) if row["before_value"] else None for row in rows] == [
        one.before for one in pack.figures
    ]
    assert {(row["first_day"], row["last_day"], row["period"]) for row in rows} == {
        ("2026-03-01", "2026-03-31", "March 2026")
    }


def test_lines_end_as_the_standard_says() -> None:
    table = csv_of(months.a_month())

    assert table.count(b"\r\n") == table.count(b"\n") == 1 + len(months.a_month().figures)


@pytest.mark.parametrize("text", ["=1+1", "@now", '"quoted", and a comma', "two\nlines", "+690 kg", "علي"])
def test_text_is_guarded_and_comes_back_as_it_was(text: str) -> None:
    row = rows_of(csv_of(months.a_month(client_name=text)))[0]

    assert not row["client"].startswith(("=", "+", "-", "@"))
    assert unguarded(row["client"]) == text


def test_hidden_figures_are_left_out() -> None:
    assert rows_of(csv_of(months.a_month(hidden=frozenset({Part.FIGURES})))) == []
