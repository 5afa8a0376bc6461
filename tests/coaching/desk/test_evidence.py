"""What stands behind a finding or a chart, as a table."""

from __future__ import annotations

import pytest
from django.template.loader import get_template

from coaching.desk.evidence import UNKNOWN, Table, table_of, tables_of
from coaching.monitoring.models import Flag


def shown(table: Table) -> str:
    return get_template("desk/rows/table.jinja", using="jinja2").render({"table": table}).strip()


def test_figures_of_evidence_are_set_on_the_right_and_words_on_the_left() -> None:
    table = table_of({"columns": ["Day", "Sets", "Load"], "rows": [["Mon", "0 of 11", "18 kg"]]})

    assert shown(table) == (
        '<table><thead><tr><th scope="col">Day</th><th class="number" scope="col">Sets</th>'
        '<th class="number" scope="col">Load</th></tr></thead>'
        '<tbody><tr><td>Mon</td><td class="number">0 of 11</td><td class="number">18 kg</td></tr></tbody></table>'
    )


def test_what_is_missing_in_evidence_is_a_dash() -> None:
    table = shown(table_of({"columns": ["A", "B"], "rows": [[None, 0]]}))

    assert f"<td>{UNKNOWN}</td>" in table
    assert '<td class="number">0</td>' in table


def test_evidence_without_rows_is_nothing() -> None:
    assert shown(table_of({"columns": ["A"], "rows": []})) == shown(table_of({})) == ""


@pytest.mark.parametrize("cell", ["<script>", "100 %s", "{{ cell }}", "a\x1fb"])
def test_evidence_shows_what_people_typed_as_text(cell: str) -> None:
    table = shown(table_of({"columns": ["A", "B"], "rows": [[cell, "x"]]}))

    assert table.count("<td>") == 2
    assert cell.replace("<", "&lt;").replace(">", "&gt;") in table


def test_several_exercises_share_a_table_with_the_latest_rows_of_each() -> None:
    evidence = {"columns": ["Day"], "rows": [["Mon 6 Apr"], ["Wed 8 Apr"], ["Mon 13 Apr"]]}
    flags = [Flag(subject=subject, evidence=evidence) for subject in ("Row", "Squat")]

    (table,) = tables_of(flags)

    assert [[text for text, _ in row] for row in table.rows] == [
        ["Row", "Wed 8 Apr"],
        ["Row", "Mon 13 Apr"],
        ["Squat", "Wed 8 Apr"],
        ["Squat", "Mon 13 Apr"],
    ]


def test_evidence_of_different_columns_stands_in_tables_of_its_own() -> None:
    flags = [Flag(evidence={"columns": [name], "rows": [["1"]]}) for name in ("Day", "Week")]

    assert len(tables_of(flags)) == 2
