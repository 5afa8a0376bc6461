from __future__ import annotations

import shutil
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from io import BytesIO
from pathlib import Path

import pytest
from openpyxl import load_workbook

from coaching.check_ins.content import Pack, Part
from coaching.check_ins.documents import workbook_of
from tests.coaching.check_ins.documents import months
from tests.coaching.check_ins.documents.readers import Cells, cells_of, resaved
from tests.machine import leave_out_unless

FORMULAS = ("=1+1", "+1", "-1", "@now", '=HYPERLINK("http://example.org")', "http://example.org", "{=1}", "1234")
PACKS = {
    "a month": months.a_month(),
    "an empty month": months.an_empty_month(),
    "forty exercises": months.forty_exercises(),
    "a long remark": months.a_long_remark(),
    "markup": months.named(months.MARKUP),
    "names": months.named("علي 王小明 🏋️"),
    "formulas": months.named("=1+1"),
}
every_pack = pytest.mark.parametrize("pack", PACKS.values(), ids=PACKS)


def equal(values: Sequence[object]) -> list[object]:
    """A workbook keeps 15 digits of a number."""
    return [pytest.approx(one, rel=1e-14) if isinstance(one, float) else one for one in values]


def column(cells: Cells, sheet: str, name: str) -> list[object]:
    head, *rows = cells[sheet]
    return [row[head.index(name)] for row in rows]


def test_figures_are_the_very_numbers_of_the_pack() -> None:
    pack = months.a_month()

    cells = cells_of(workbook_of(pack))

    assert column(cells, "Figures", "March 2026") == equal([one.now for one in pack.figures])
    assert column(cells, "Figures", "February 2026") == equal([one.before for one in pack.figures])


def test_weeks_and_exposures_are_the_very_numbers_of_the_pack() -> None:
    pack = months.a_month()
    dots = [dot for one in pack.staircases for dot in one.dots]

    cells = cells_of(workbook_of(pack))

    assert column(cells, "Weeks", "Tonnage, kg") == equal([one.tonnage_kg for one in pack.weeks])
    assert column(cells, "Weeks", "Share of the plan done") == equal([one.dose for one in pack.weeks])
    assert column(cells, "Exposures", "Value") == equal([dot.value for dot in dots])
    assert column(cells, "Exposures", "e1RM") == equal([dot.e1rm for dot in dots])
    assert column(cells, "Exposures", "Done on")[0] == datetime(2026, 3, 3)
    assert column(cells, "Exercises", "Last asked") == [one.steps[-1][1] for one in pack.staircases]


def test_tonnage_is_in_the_unit_of_the_client() -> None:
    weeks = (replace(months.a_month().weeks[0], tonnage_kg=453.59237),)

    cells = cells_of(workbook_of(months.a_month(unit="lb", weeks=weeks)))

    assert column(cells, "Weeks", "Tonnage, lb") == [1000]


def test_everything_said_in_words_is_there() -> None:
    pack = months.a_month(remarks={Part.FIGURES: "Away in the second week."})

    said = column(cells_of(workbook_of(pack)), "The month", "In words")

    assert {sentence.text for sentence in pack.sentences} <= set(said)
    assert {*pack.questions, "Away in the second week."} <= set(said)
    assert [row[3] for row in cells_of(workbook_of(pack))["What was found"][1:]] == [one.sentence for one in pack.found]


@pytest.mark.parametrize("text", FORMULAS)
def test_what_looks_like_a_formula_an_address_or_a_number_stays_text(text: str) -> None:
    workbook = load_workbook(BytesIO(workbook_of(months.named(text))))

    cells = [cell for sheet in workbook.worksheets for row in sheet.iter_rows() for cell in row if cell.value == text]
    assert len(cells) > 5
    assert {cell.data_type for cell in cells} == {"s"}
    assert not any(cell.hyperlink for cell in cells)


def test_a_share_is_shown_as_per_cent_and_a_day_as_a_day() -> None:
    workbook = load_workbook(BytesIO(workbook_of(months.a_month())))

    assert workbook["Figures"]["C2"].number_format == "0.0%"
    assert workbook["Figures"]["C5"].number_format == "#,##0.0##"
    assert workbook["Figures"]["C7"].number_format == "#,##0"
    assert workbook["Exposures"]["B2"].is_date


def test_every_sheet_keeps_its_head_on_screen_and_on_paper() -> None:
    sheets = load_workbook(BytesIO(workbook_of(months.a_month()))).worksheets

    assert [sheet.title for sheet in sheets] == [
        "The month", "Figures", "Weeks", "Exercises", "Exposures", "What was found",
    ]  # fmt: skip
    assert all(sheet.freeze_panes == "B2" for sheet in sheets)
    assert all(sheet.print_title_rows == "$1:$1" for sheet in sheets)
    assert all(sheet.page_setup.orientation == "landscape" for sheet in sheets)


def test_a_long_text_has_the_height_it_needs() -> None:
    sheet = load_workbook(BytesIO(workbook_of(months.a_long_remark())))["The month"]

    (row,) = (cell.row for cell in sheet["B"] if str(cell.value).startswith("The knee was quiet"))
    assert sheet.row_dimensions[row].height == 405
    # As high as any row.
    assert sheet.row_dimensions[2].height is None


def test_hidden_parts_are_not_in_it() -> None:
    pack = months.a_month(hidden=frozenset({Part.FOUND, Part.FIGURES, Part.QUESTIONS}))

    cells = cells_of(workbook_of(pack))

    assert cells.keys() == {"The month", "Weeks", "Exercises", "Exposures"}
    assert not {*pack.questions} & set(column(cells, "The month", "In words"))


@every_pack
def test_the_same_pack_is_the_same_bytes(pack: Pack) -> None:
    assert workbook_of(pack) == workbook_of(replace(pack))


def test_another_program_opens_it_and_saves_the_same(tmp_path: Path) -> None:
    is_there = shutil.which("soffice") is not None
    leave_out_unless(is_there, "no LibreOffice on this machine", required_by="MUSTER_OFFICE_REQUIRED")
    names = {"client_name": "=1+1", "coach_name": "علي 王小明"}
    written = workbook_of(replace(months.forty_exercises(), remarks={Part.WEEKS: months.MARKUP}, **names))

    again = cells_of(resaved(written, tmp_path))

    assert again == {name: [tuple(equal(row)) for row in rows] for name, rows in cells_of(written).items()}
