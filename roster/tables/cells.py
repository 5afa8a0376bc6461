"""Parsers of single cells: each takes a cell and gives its value, None for an empty one, or refuses it with a reason.

A number is written with digits and at most one decimal comma or point: no sign of thousands, no exponent, no unit.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from typing import TypeVar

Cell = str | date
T = TypeVar("T")
Parser = Callable[[Cell], T | None]

NUMBER = re.compile(r"[0-9]{1,30}(?:[.,][0-9]{1,30})?|[.,][0-9]{1,30}")
NEGATIVE_NUMBER = re.compile(r"[-−](?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)")
YES_AND_NO = {"yes": True, "1": True, "no": False, "0": False}


# Longer than any number, range of reps or date that somebody means; text has its own lengths.
LONGEST_VALUE = 2_000


class UnreadableCell(str):
    """What stands in a cell that is neither text nor a date, with the reason why it can't be read."""

    __slots__ = ("reason",)
    reason: str

    def __new__(cls, shown: str, reason: str) -> UnreadableCell:
        cell = super().__new__(cls, shown)
        cell.reason = reason
        return cell


class CellRefused(ValueError):
    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


def required(parse: Parser[T]) -> Parser[T]:
    def parse_required(cell: Cell) -> T | None:
        if cell == "":
            raise CellRefused("is empty")
        return parse(cell)

    return parse_required


def text(longest: int) -> Parser[str]:
    def parse_text(cell: Cell) -> str:
        words = long_text_of(cell)
        # Folded for comparison, a few letters become three; the record keeps room for twice the length.
        if len(words) > longest or len(words.casefold()) > 2 * longest:
            raise CellRefused(f"is longer than {longest} characters")
        return words

    return parse_text


def whole_number(least: int, most: int) -> Parser[int]:
    def parse_whole_number(cell: Cell) -> int | None:
        number = decimal_of(cell)
        if number is None:
            return None
        if number != number.to_integral_value():
            raise CellRefused("is no whole number")
        return int(_within(number, least, most))

    return parse_whole_number


def decimal_number(least: int, most: int, places: int, *, more_than_least: bool = False) -> Parser[Decimal]:
    """A number from `least` to `most`, rounded to `places`, which are finer than anybody measures it."""

    def parse_decimal_number(cell: Cell) -> Decimal | None:
        number = decimal_of(cell)
        if number is None:
            return None
        rounded = _within(number, least, most).quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
        if more_than_least and rounded <= least:
            raise CellRefused(f"is not more than {least}")
        return rounded

    return parse_decimal_number


def one_of(choices: Mapping[str, T]) -> Parser[T]:
    """One of a few words, without regard to case."""

    def parse_one_of(cell: Cell) -> T | None:
        word = text_of(cell).casefold()
        if word == "":
            return None
        if word not in choices:
            raise CellRefused(f"is none of {', '.join(choices)}")
        return choices[word]

    return parse_one_of


yes_or_no: Parser[bool] = one_of(YES_AND_NO)


def text_of(cell: Cell) -> str:
    """The text of a cell that holds one value, or a short list of them."""
    words = long_text_of(cell)
    if len(words) > LONGEST_VALUE:
        raise CellRefused(f"is longer than {LONGEST_VALUE:,} characters")
    return words


def long_text_of(cell: Cell) -> str:
    if isinstance(cell, date):
        raise CellRefused("is a date cell, not text or a number: format the cell as text and type it again")
    return cell


def decimal_of(cell: Cell) -> Decimal | None:
    """Any number, unrounded; None for an empty cell."""
    digits = text_of(cell)
    if digits == "":
        return None
    if NUMBER.fullmatch(digits):
        return Decimal(digits.replace(",", "."))
    raise CellRefused("is below zero" if NEGATIVE_NUMBER.fullmatch(digits) else "is no number")


def _within(number: Decimal, least: int, most: int) -> Decimal:
    if number < least:
        raise CellRefused(f"is less than {least}")
    if number > most:
        raise CellRefused(f"is more than {most}")
    return number
