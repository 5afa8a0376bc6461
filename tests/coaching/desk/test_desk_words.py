from __future__ import annotations

from datetime import date

import pytest

from coaching.desk import days
from coaching.desk.evidence import UNKNOWN, table_of, tables_of
from coaching.desk.templatetags.desk_words import ago, counted, kilograms, percent
from coaching.monitoring.models import Flag

TODAY = date(2026, 4, 15)


@pytest.mark.parametrize(
    ("grams", "text"),
    [(18_000, "18"), (10_500, "10.5"), (1_284_000, "1,284"), (20_412, "20.412"), (0, "0"), (100, "0.1")],
)
def test_kilograms_have_decimals_only_where_there_are_any(grams: int, text: str) -> None:
    assert kilograms(grams) == text


def test_unknown_is_a_dash_and_never_zero() -> None:
    assert kilograms(None) == percent(None) == ago(None, TODAY) == UNKNOWN
    assert (kilograms(0), percent(0.0)) == ("0", "0 %")


@pytest.mark.parametrize(
    ("day", "text"),
    [(date(2026, 4, 15), "today"), (date(2026, 4, 14), "yesterday"), (date(2026, 4, 6), "9 days ago")],
)
def test_days_are_counted_back_in_words(day: date, text: str) -> None:
    assert ago(day, TODAY) == text


def test_one_is_one_and_two_are_several() -> None:
    assert (counted(1, "person,people"), counted(2, "person,people"), counted(0, "client")) == (
        "1 person",
        "2 people",
        "0 clients",
    )


def test_a_long_list_of_names_is_cut() -> None:
    assert days.listed(["Bo", "Yara", "Ann"], at_most=2) == "Bo, Yara and 1 more"
    assert days.listed(["Bo", "Yara"], at_most=2) == "Bo, Yara"


def test_figures_of_evidence_are_set_on_the_right_and_words_on_the_left() -> None:
    table = table_of({"columns": ["Day", "Sets", "Load"], "rows": [["Mon", "0 of 11", "18 kg"]]})

    assert table == (
        '<table><thead><tr><th scope="col">Day</th><th class="number" scope="col">Sets</th>'
        '<th class="number" scope="col">Load</th></tr></thead>'
        '<tbody><tr><td>Mon</td><td class="number">0 of 11</td><td class="number">18 kg</td></tr></tbody></table>'
    )


def test_what_is_missing_in_evidence_is_a_dash() -> None:
    table = table_of({"columns": ["A", "B"], "rows": [[None, 0]]})

    assert f"<td>{UNKNOWN}</td>" in table
    assert '<td class="number">0</td>' in table


def test_evidence_without_rows_is_nothing() -> None:
    assert table_of({"columns": ["A"], "rows": []}) == table_of({}) == ""


@pytest.mark.parametrize("cell", ["<script>", "100 %s", "a\x1fb"])
def test_evidence_shows_what_people_typed_as_text(cell: str) -> None:
    table = table_of({"columns": ["A", "B"], "rows": [[cell, "x"]]})

    assert table.count("<td>") == 2
    assert "<script>" not in table


def test_several_exercises_share_a_table_with_the_latest_rows_of_each() -> None:
    evidence = {"columns": ["Day"], "rows": [["Mon 6 Apr"], ["Wed 8 Apr"], ["Mon 13 Apr"]]}
    flags = [Flag(subject=subject, evidence=evidence) for subject in ("Row", "Squat")]

    table = tables_of(flags)

    assert table.count("<table>") == 1
    assert table.count("<td>Row</td>") == table.count("<td>Squat</td>") == 2
    assert "Mon 6 Apr" not in table


def test_evidence_of_different_columns_stands_in_tables_of_its_own() -> None:
    flags = [Flag(evidence={"columns": [name], "rows": [["1"]]}) for name in ("Day", "Week")]

    assert tables_of(flags).count("<table>") == 2
