"""What a plan and a log write of a set: “8”, “8 each”, “30 s”, “20 m”, “12-10-8”; “22.5”, “bw”, “band red”."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from roster.blocks.models import Measure
from roster.mass import LoadKind, to_grams
from roster.tables.cells import Cell, CellRefused, decimal_of, text_of

TARGETS = re.compile(r"([0-9]{1,6}(?:\s*-\s*[0-9]{1,6})*)\s*(s|m)?(?:\s+(each)(?:\s+side)?)?", re.IGNORECASE)
WHOLE_WITH_ZEROS = re.compile(r"^([0-9]{1,6})[.,]0+(?![0-9])")
BAND = re.compile(r"band\s+(\S.*)", re.IGNORECASE)
BODY_WEIGHT_WORD = "bw"
LONGEST_BAND = 60
MOST_REPS = 32_767
HEAVIEST = Decimal("99999.9999")
# A load is shown as entered to the fourth decimal; its grams come from all of them.
ENTERED_PLACES = Decimal("0.0001")


@dataclass(frozen=True, slots=True)
class Targets:
    """What each set counts: one number for all sets, or one a set."""

    counts: tuple[int, ...]
    # Empty where the cell does not say.
    measure: str
    is_each_side: bool

    def __str__(self) -> str:
        return "-".join(str(count) for count in self.counts)


@dataclass(frozen=True, slots=True)
class Load:
    """What makes a set heavy, as entered and in whole grams."""

    kind: str
    amount: Decimal | None = None
    unit: str = ""
    band: str = ""

    @property
    def entered(self) -> Decimal | None:
        return None if self.amount is None else self.amount.quantize(ENTERED_PLACES, ROUND_HALF_UP)

    @property
    def grams(self) -> int | None:
        return None if self.amount is None else to_grams(self.amount, self.unit)

    def in_unit(self, unit: str) -> Load:
        """A mass in the unit it was meant in; anything else has none."""
        return Load(self.kind, self.amount, unit) if self.kind == LoadKind.MASS else self

    def __str__(self) -> str:
        if self.kind == LoadKind.MASS:
            return f"{self.amount:f} {self.unit}"
        return f"band {self.band}" if self.kind == LoadKind.BAND else "body weight"


BODY_WEIGHT = Load(LoadKind.BODY.value)


def parse_targets(cell: Cell) -> Targets | None:
    """A prescription of reps: every target at least 1."""
    targets = _targets(cell)
    if targets and min(targets.counts) < 1:
        raise CellRefused("asks for less than one")
    return targets


def parse_reps_done(cell: Cell) -> Targets | None:
    """What was done in one set; 0 is a set tried and not done."""
    targets = _targets(cell)
    if targets and len(targets.counts) > 1:
        raise CellRefused("is more than one set: a log has a row for each")
    return targets


def _targets(cell: Cell) -> Targets | None:
    words = text_of(cell)
    if words == "":
        return None
    # A spreadsheet writes 8 as 8.0, or 8,0.
    match = TARGETS.fullmatch(WHOLE_WITH_ZEROS.sub(r"\1", words))
    if not match:
        raise CellRefused("is none of 8, 8 each, 30 s, 20 m, 12-10-8")
    numbers, unit, each = match.groups()
    counts = tuple(int(number) for number in numbers.split("-"))
    if max(counts) > MOST_REPS:
        raise CellRefused(f"is more than {MOST_REPS:,}")
    return Targets(counts, _measure(unit), is_each_side=each is not None)


def _measure(unit: str | None) -> str:
    if unit is None:
        return ""
    return Measure.SECONDS.value if unit.casefold() == "s" else Measure.METRES.value


def parse_load(cell: Cell) -> Load:
    """A number, `bw` or `band NAME`; an empty cell is body weight. The unit is not known here."""
    words = text_of(cell)
    if words == "" or words.casefold() == BODY_WEIGHT_WORD:
        return BODY_WEIGHT
    if match := BAND.fullmatch(words):
        return Load(LoadKind.BAND.value, band=_band(match[1]))
    return Load(LoadKind.MASS.value, amount=_amount(words))


def _band(name: str) -> str:
    if len(name) > LONGEST_BAND:
        raise CellRefused(f"names a band in more than {LONGEST_BAND} characters")
    return name


def _amount(words: str) -> Decimal | None:
    try:
        amount = decimal_of(words)
    except CellRefused as refused:
        reason = "is no number, bw or band NAME" if refused.reason == "is no number" else refused.reason
        raise CellRefused(reason) from None
    if amount is not None and amount > HEAVIEST:
        raise CellRefused(f"is more than {HEAVIEST}")
    return amount
