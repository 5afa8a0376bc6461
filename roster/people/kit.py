"""Kit as a coach writes it: “dumbbell: 2-20/2; kettlebell: 8, 12, 16”.

An implement, a colon, and its loads between commas: a load, or a range from-to/step. A decimal comma is understood
where only one reading makes sense; “8,12” may be two loads or one, and is refused.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from roster.labels import fold
from roster.mass import to_grams

LOAD = r"[0-9]{1,5}(?:[.,][0-9]{1,4})?"
ONE_LOAD = re.compile(LOAD)
RANGE = re.compile(rf"({LOAD})\s*[-–]\s*({LOAD})\s*/\s*({LOAD})")
RANGE_WITHOUT_STEP = re.compile(rf"{LOAD}\s*[-–]\s*{LOAD}")
COMMA_BETWEEN_DIGITS = re.compile(r"(?<=[0-9]),(?=[0-9])")
MOST_LOADS = 500
LONGEST_IMPLEMENT, LONGEST_LOADS = 60, 200


@dataclass(frozen=True, slots=True)
class KitEntry:
    """One implement with its loads, as written and in ascending whole grams."""

    implement: str
    loads_entered: str
    loads_g: tuple[int, ...]


class KitRefused(ValueError):
    """Names the word that is wrong."""

    def __init__(self, word: str, reason: str) -> None:
        super().__init__(f"“{word}” {reason}")
        self.word = word
        self.reason = reason


def parse_kit(words: str, unit: str) -> tuple[KitEntry, ...]:
    """The implements of a kit whose loads are in `unit`; nothing for an empty text."""
    entries: dict[str, KitEntry] = {}
    for item in filter(None, (part.strip() for part in words.split(";"))):
        entry = _parse_item(item, unit)
        if fold(entry.implement) in entries:
            raise KitRefused(entry.implement, "is named twice")
        entries[fold(entry.implement)] = entry
    return tuple(entries.values())


def _parse_item(item: str, unit: str) -> KitEntry:
    implement, colon, loads_entered = (part.strip() for part in item.partition(":"))
    if not colon or not implement or not loads_entered:
        raise KitRefused(item, "needs an implement, a colon and its loads, as in “kettlebell: 8, 12, 16”")
    if len(implement) > LONGEST_IMPLEMENT:
        raise KitRefused(implement, f"is longer than {LONGEST_IMPLEMENT} characters")
    if len(loads_entered) > LONGEST_LOADS:
        raise KitRefused(loads_entered, f"is longer than {LONGEST_LOADS} characters")
    amounts = _read_loads(loads_entered)
    loads_g = sorted({to_grams(amount, unit) for amount in amounts})
    if loads_g[0] == 0:
        raise KitRefused(loads_entered, "holds a load of less than a gram")
    return KitEntry(implement, loads_entered, tuple(loads_g))


def _read_loads(loads_entered: str) -> list[Decimal]:
    """The one reading that makes sense: commas between digits as decimal commas, or as commas between loads."""
    if not COMMA_BETWEEN_DIGITS.search(loads_entered):
        return _amounts(loads_entered.split(","))
    as_decimals = _amounts_or_refusal(re.split(r",(?![0-9])|(?<![0-9]),", loads_entered))
    as_list = _amounts_or_refusal(loads_entered.split(","))
    if isinstance(as_list, KitRefused) or not _is_ascending(as_list):
        if isinstance(as_decimals, KitRefused):
            raise as_decimals
        return as_decimals
    if isinstance(as_decimals, KitRefused):
        return as_list
    reason = "may be one load or two: put a space after a comma between loads, and write decimals with a point"
    raise KitRefused(loads_entered, reason)


def _amounts_or_refusal(words: Iterable[str]) -> list[Decimal] | KitRefused:
    try:
        return _amounts(words)
    except KitRefused as refused:
        return refused


def _amounts(words: Iterable[str]) -> list[Decimal]:
    amounts = [amount for word in words for amount in _amounts_of(word.strip())]
    if len(amounts) > MOST_LOADS:
        raise KitRefused(str(len(amounts)), f"loads are more than the {MOST_LOADS} that an implement may have")
    return amounts


def _amounts_of(word: str) -> Iterator[Decimal]:
    if ONE_LOAD.fullmatch(word):
        yield _above_zero(word, word)
    elif match := RANGE.fullmatch(word):
        yield from _steps(word, *(_above_zero(part, word) for part in match.groups()))
    elif RANGE_WITHOUT_STEP.fullmatch(word):
        raise KitRefused(word, "has no step, as in 2-20/2")
    else:
        raise KitRefused(word, "is no load such as 8 or 2.5, and no range such as 2-20/2")


def _above_zero(digits: str, word: str) -> Decimal:
    amount = Decimal(digits.replace(",", "."))
    if amount <= 0:
        raise KitRefused(word, "holds a load or step of zero")
    return amount


def _steps(word: str, lightest: Decimal, heaviest: Decimal, step: Decimal) -> Iterator[Decimal]:
    """From the lightest by the step, up to the heaviest or the last load below it."""
    if heaviest < lightest:
        raise KitRefused(word, "ends below its beginning")
    count = int((heaviest - lightest) / step) + 1
    if count > MOST_LOADS:
        raise KitRefused(word, f"has more than {MOST_LOADS} loads")
    yield from (lightest + number * step for number in range(count))


def _is_ascending(amounts: list[Decimal]) -> bool:
    return all(lighter < heavier for lighter, heavier in pairwise(amounts))
