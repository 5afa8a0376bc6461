"""The rows behind a finding or a chart, as tables that a page can show."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from django.utils.safestring import SafeString

from coaching.monitoring.models import Flag

UNKNOWN = SafeString('<span title="unknown">–</span>')
# Of several exercises each shows so many; the story has them all.
LATEST_ROWS = 2
# A figure with its unit, such as "18 kg", "0 of 11", "75 %": set on the right, so that figures line up.
_FIGURE = re.compile(r"[+-]?\d[\d.,]*( of \d+)?( (kg|lb|min|s|m|%))?")

# Its text, empty for unknown, and whether it stands in a column of figures.
Cell = tuple[str, bool]


@dataclass(frozen=True, slots=True)
class Table:
    head: list[Cell] = field(default_factory=list)
    rows: list[list[Cell]] = field(default_factory=list)


def tables_of(flags: Sequence[Flag]) -> list[Table]:
    """The rows behind one flag; of several, told in one sentence, the latest rows of each exercise."""
    if len(flags) == 1:
        return [table_of(flags[0].evidence)]
    columns = [flag.evidence.get("columns") for flag in flags]
    if columns.count(columns[0]) < len(columns):
        return [table_of(flag.evidence) for flag in flags]
    rows = [[flag.subject, *row] for flag in flags for row in flag.evidence.get("rows", [])[-LATEST_ROWS:]]
    return [table_of({"columns": ["Exercise", *(columns[0] or [])], "rows": rows})]


def table_of(evidence: Mapping[str, Sequence[Any]]) -> Table:
    rows = [["" if cell is None else str(cell) for cell in row] for row in evidence.get("rows", ())]
    if not rows:
        return Table()
    are_figures = [_are_figures(column) for column in zip(*rows, strict=True)]
    lines = [list(zip(row, are_figures, strict=True)) for row in rows]
    return Table(list(zip(evidence["columns"], are_figures, strict=True)), lines)


def _are_figures(column: Sequence[str]) -> bool:
    known = [text for text in column if text]
    return bool(known) and all(map(_FIGURE.fullmatch, known))
