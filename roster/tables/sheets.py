"""The rows of one sheet, as its markup has them: nothing filled up, nothing guessed, nothing passed over.

The library reads what a cell holds. The rows are walked through here, since its own walk pads a sheet with one far cell
to a million rows, drops rows that stand out of order, and can't tell a formula without its result from an empty cell.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import IO, Any
from xml.etree.ElementTree import Element

from openpyxl.utils.cell import column_index_from_string
from openpyxl.workbook import Workbook
from openpyxl.worksheet._reader import FORMULA_TAG, ROW_TAG, VALUE_TAG, WorkSheetParser
from openpyxl.xml.functions import iterparse

from roster.tables.cells import UnreadableCell
from roster.tables.faults import FileRefused
from roster.tables.places import lettered_column

MOST_ROWS, MOST_COLUMNS = 1_048_576, 16_384
# A cell is its element with a value and a formula, or with a text of a few runs.
MOST_ELEMENTS_A_ROW = 6 * MOST_COLUMNS
COORDINATE = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
TEXT_OF_A_FORMULA = "str"
NO_RESULT = "is a formula without its result: open the file in a spreadsheet program and save it again"
NOT_WHAT_IT_SAYS = "is damaged: it is not the number, date or text that the workbook says it is"
UNREADABLE_VALUE = (ArithmeticError, LookupError, TypeError, ValueError)
# A place in the row, counted from 0, and a value of the library's making.
Filled = tuple[int, Any]


class SheetParser(WorkSheetParser):
    def __init__(self, source: IO[bytes], book: Workbook, shared_strings: list[str]) -> None:
        super().__init__(
            source,
            shared_strings,
            data_only=True,
            epoch=book.epoch,
            date_formats=book._date_formats,
            timedelta_formats=book._timedelta_formats,
        )

    def filled_rows(self) -> Iterator[tuple[int, list[Filled]]]:
        """Each row of the markup with its number and its cells that hold something, in order."""
        number = elements = 0
        for _, element in iterparse(self.source):
            elements += 1
            if element.tag == ROW_TAG:
                number = self._number_after(number, element.get("r"))
                yield number, self._cells(element, number)
                element.clear()
                elements = 0
            elif elements > MOST_ELEMENTS_A_ROW:
                raise FileRefused(f"is a damaged workbook: row {number + 1} of its sheet holds more than a row can")

    def _number_after(self, before: int, said: str | None) -> int:
        number = before + 1 if said is None else int(said) if said.isdecimal() else 0
        if not before < number <= MOST_ROWS:
            raise FileRefused(f"is a damaged workbook: after row {before} of its sheet comes row {said}")
        self.row_counter, self.col_counter = number, 0
        return number

    def _cells(self, row: Element, number: int) -> list[Filled]:
        filled: list[Filled] = []
        place = -1
        for element in row:
            place = self._place_after(place, element.get("r"), number)
            value = self._value(element)
            if value is not None:
                filled.append((place, value))
        return filled

    def _place_after(self, before: int, said: str | None, number: int) -> int:
        match = COORDINATE.fullmatch(said or "")
        place = column_index_from_string(match[1]) - 1 if match and int(match[2]) == number else -1
        if said is None:
            place = before + 1
        if not before < place < MOST_COLUMNS:
            reason = "stands in the wrong place: the workbook is damaged"
            raise FileRefused(reason, row=number, column=lettered_column(before + 1), value=said or "")
        return place

    def _value(self, element: Element) -> Any:
        kind, value = element.get("t", "n"), element.findtext(VALUE_TAG)
        if not value and element.find(FORMULA_TAG) is not None:
            is_empty_text = kind == TEXT_OF_A_FORMULA and value is not None
            written = "=" + (element.findtext(FORMULA_TAG) or "")
            return None if is_empty_text else UnreadableCell(written, NO_RESULT)
        try:
            if (kind == "s" and value and int(value) < 0) or (kind == "b" and value not in ("0", "1", None)):
                raise ValueError(value)
            return super().parse_cell(element)["value"]
        except UNREADABLE_VALUE:
            return UnreadableCell(value or "?", NOT_WHAT_IT_SAYS)
