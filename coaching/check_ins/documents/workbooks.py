"""A pack as a workbook: numbers that count on, texts that stay texts, a sheet for each kind of thing it says.

It is the coach's: what was found is in it, and the parts that she hid are not.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from io import BytesIO
from math import ceil
from typing import TYPE_CHECKING, Any

from coaching.check_ins.content import Figure, Pack, Paper, Part
from coaching.check_ins.documents.cautions import CAUTIONS
from coaching.check_ins.documents.paper_words import days_text, long_day
from coaching.monitoring.load_words import amount
from coaching.monitoring.mark_words import summary

if TYPE_CHECKING:
    from xlsxwriter import Workbook
    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

# A workbook is the same bytes for the same pack: the day it says it was made is the last that was read.
OPTIONS = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
LONGEST_CELL = 32_767
A4 = 9
ROW_POINTS, MOST_POINTS = 15, 405
# Of a column's width, what text of usual letters takes.
LETTERS_TO_A_WIDTH = 1.05

NUMBER, COUNT, SHARE, DAY, TEXT = "#,##0.0##", "#,##0", "0.0%", "d mmm yyyy", "@"


@dataclass(frozen=True)
class Column:
    name: str
    width: int
    shown_as: str = TEXT


@dataclass(frozen=True)
class Sheet:
    name: str
    columns: tuple[Column, ...]
    rows: Sequence[Sequence[Any]]


def workbook_of(pack: Pack) -> bytes:
    from xlsxwriter import Workbook

    written = BytesIO()
    workbook = Workbook(written, OPTIONS)
    as_of = datetime(pack.as_of.year, pack.as_of.month, pack.as_of.day)
    title = f"{pack.client_name}, {pack.period.title}"
    workbook.set_properties({"title": title, "author": pack.coach_name, "company": pack.studio_name, "created": as_of})
    formats = {shown_as: workbook.add_format(_looks(shown_as)) for shown_as in (NUMBER, COUNT, SHARE, DAY, TEXT)}
    heads = {True: workbook.add_format({**_HEAD, **_INDENTED}), False: workbook.add_format({**_HEAD, "align": "right"})}
    for sheet in sheets_of(pack):
        _write(workbook, sheet, formats, heads, title)
    workbook.close()
    return written.getvalue()


# Off the number in the column before.
_INDENTED = {"align": "left", "indent": 1}
_HEAD = {"bold": True, "bottom": 1, "text_wrap": True, "valign": "bottom", "num_format": TEXT}


def _looks(shown_as: str) -> dict[str, Any]:
    is_text = shown_as == TEXT
    return {"num_format": shown_as, "valign": "top", **({"text_wrap": True, **_INDENTED} if is_text else {})}


def sheets_of(pack: Pack) -> list[Sheet]:
    shown = pack.parts_of(Paper.MINE)
    makers = (
        (_month, Part.SENTENCES), (_figures, Part.FIGURES), (_weeks, Part.WEEKS), (_exercises, Part.STAIRCASES),
        (_exposures, Part.STAIRCASES), (_found, Part.FOUND),
    )  # fmt: skip
    return [make(pack) for make, part in makers if part in shown or make is _month]


def _month(pack: Pack) -> Sheet:
    """Everything that is said in words."""
    before = pack.before.title if pack.before else ""
    rows = [
        ["Client", pack.client_name], ["Period", f"{pack.period.title}, {days_text(pack.period)}"], ["Beside", before],
        ["Logs read up to", long_day(pack.as_of)], ["Coach", f"{pack.coach_name}, {pack.studio_name}"],
    ]  # fmt: skip
    rows += [["", pack.nothing]] if pack.nothing else []
    for part in pack.parts_of(Paper.MINE):
        rows += [[part.title, line] for line in _lines_of(pack, part)]
        rows += [[f"{part.title}: remark", pack.remarks[part]]] if pack.remarks.get(part, "").strip() else []
    rows += [["Cautions", caution] for caution in CAUTIONS]
    return Sheet("The month", (Column("What", 30), Column("In words", 100)), rows)


def _lines_of(pack: Pack, part: Part) -> list[str]:
    if part is Part.SENTENCES:
        return [sentence.text for sentence in pack.sentences] + list(pack.traces.values())
    if part is Part.AGREED:
        return [promise.text for promise in pack.agreed]
    if part is Part.CONTACTS:
        return [f"{one.made_on.isoformat()}, {one.how}: {one.outcome}" for one in pack.contacts]
    if part is Part.ANSWERS:
        return [f"{one.question} {one.text}".strip() for one in pack.answers]
    return list(pack.questions) if part is Part.QUESTIONS else []


def _figures(pack: Pack) -> Sheet:
    before = pack.before.title if pack.before else "Before"
    columns = (
        Column("Figure", 30), Column("Unit", 8), Column(pack.period.title, 16, NUMBER), Column(before, 16, NUMBER),
        Column("In words", 34), Column("Before, in words", 34), Column("Change", 24), Column("How it was made", 80),
    )  # fmt: skip
    return Sheet("Figures", columns, [_figure(one) for one in pack.figures])


def _figure(one: Figure) -> list[Any]:
    shown_as = SHARE if one.unit == "%" else NUMBER
    numbers = [_Number(one.now, shown_as), _Number(one.before, shown_as)]
    return [one.name, one.unit, *numbers, one.now_text, one.before_text, one.change_text, one.made]


@dataclass(frozen=True)
class _Number:
    """With a format other than its column's."""

    value: float | None
    shown_as: str


def _weeks(pack: Pack) -> Sheet:
    columns = (
        Column("Week of", 14, DAY), Column("Block", 16), Column("Week of the block", 10, COUNT),
        Column("Due", 8, COUNT), Column("Attended", 10, COUNT), Column("Extra", 8, COUNT),
        Column(f"Tonnage, {pack.unit}", 14, NUMBER), Column("Share of the plan done", 14, SHARE),
        Column("Sessions", 34), Column("Note", 30),
    )  # fmt: skip
    rows = [
        [
            week.week_start, week.block, week.block_week, week.due, week.attended, len(week.extras),
            None if week.tonnage_kg is None else amount(week.tonnage_kg, pack.unit), week.dose,
            summary(tuple(mark.status for mark in week.marks)), week.note,
        ]
        for week in pack.weeks
    ]  # fmt: skip
    return Sheet("Weeks", columns, rows)


def _exercises(pack: Pack) -> Sheet:
    columns = (
        Column("Exercise", 32), Column("Unit", 8), Column("First asked", 12, NUMBER), Column("Last asked", 12, NUMBER),
        Column("Exposures", 11, COUNT), Column("Met", 8, COUNT), Column("Load now", 16), Column("e1RM", 24),
    )  # fmt: skip
    rows = []
    for one in pack.staircases:
        asked = [value for _, value in one.steps if value is not None]
        met = sum(dot.kind.value == "met" for dot in one.dots)
        rows.append([one.name, one.unit, asked[0], asked[-1], len(one.dots), met, one.latest, one.e1rm])
    return Sheet("Exercises", columns, rows)


def _exposures(pack: Pack) -> Sheet:
    columns = (
        Column("Exercise", 32), Column("Done on", 14, DAY), Column("Suggested for", 14, DAY), Column("Asked", 44),
        Column("Done", 24), Column("Value", 10, NUMBER), Column("Unit", 8), Column("What came of it", 34),
        Column("e1RM", 10, NUMBER),
    )  # fmt: skip
    rows = [
        [one.name, dot.performed_on, dot.suggested_on, dot.asked, dot.done, dot.value, one.unit, dot.verdict, dot.e1rm]
        for one in pack.staircases
        for dot in one.dots
    ]
    return Sheet("Exposures", columns, rows)


def _found(pack: Pack) -> Sheet:
    columns = (
        Column("Kind", 20), Column("About", 24), Column("Urgency", 12), Column("In words", 70),
        Column("Opened on", 14, DAY), Column("Ended on", 14, DAY), Column("What was done", 50),
    )  # fmt: skip
    rows = [
        [one.kind, one.subject, one.urgency, one.sentence, one.opened_on, one.ended_on, "\n".join(one.done)]
        for one in pack.found
    ]
    return Sheet("What was found", columns, rows)


def _write(workbook: Workbook, sheet: Sheet, formats: dict[str, Format], heads: dict[bool, Format], title: str) -> None:
    worksheet = workbook.add_worksheet(sheet.name)
    for number, column in enumerate(sheet.columns):
        worksheet.set_column(number, number, column.width)
        worksheet.write_string(0, number, column.name, heads[column.shown_as == TEXT])
    worksheet.set_row(0, _height([column.name for column in sheet.columns], sheet.columns))
    for row, values in enumerate(sheet.rows, start=1):
        # What is wrapped needs its height said: not every program finds it out.
        worksheet.set_row(row, _height(values, sheet.columns))
        _write_row(worksheet, row, values, sheet.columns, formats)
    _set_up_print(worksheet, title)


def _height(values: Sequence[Any], columns: Sequence[Column]) -> int:
    texts = [(value, column.width) for value, column in zip(values, columns, strict=True) if isinstance(value, str)]
    return min(MOST_POINTS, ROW_POINTS * max((_lines(text, width) for text, width in texts), default=1))


def _lines(text: str, width: int) -> int:
    return sum(max(1, ceil(len(line) / (LETTERS_TO_A_WIDTH * width))) for line in text.split("\n"))


def _write_row(
    worksheet: Worksheet, row: int, values: Iterable[Any], columns: Sequence[Column], formats: dict[str, Format]
) -> None:
    for number, (value, column) in enumerate(zip(values, columns, strict=True)):
        shown_as = column.shown_as
        if isinstance(value, _Number):
            value, shown_as = value.value, value.shown_as
        if shown_as == NUMBER and value is not None and value == int(value):
            shown_as = COUNT
        if isinstance(value, date):
            worksheet.write_datetime(row, number, datetime(value.year, value.month, value.day), formats[DAY])
        elif isinstance(value, (int, float)):
            worksheet.write_number(row, number, value, formats[shown_as])
        elif value:
            worksheet.write_string(row, number, value[:LONGEST_CELL], formats[TEXT])


def _set_up_print(worksheet: Worksheet, title: str) -> None:
    worksheet.freeze_panes(1, 1)
    worksheet.repeat_rows(0)
    worksheet.set_landscape()
    worksheet.set_paper(A4)
    worksheet.fit_to_pages(1, 0)
    # An ampersand begins a code of the footer's own.
    worksheet.set_footer(f"&L{title.replace('&', '&&')[:120]}&RPage &P of &N")
