"""The figures of a pack as one table (RFC 4180): a row a figure, with its number now and before."""

from __future__ import annotations

import csv
from io import StringIO

from coaching.check_ins.content import Figure, Pack, Paper, Part
from roster.tables.formula_cells import guarded

COLUMNS = (
    "client", "period", "first_day", "last_day", "before", "figure", "name", "unit", "now", "before_value", "change",
)  # fmt: skip


def csv_of(pack: Pack) -> bytes:
    """Begins with a mark by which spreadsheets know that it is UTF-8; nothing in it is taken for a formula."""
    written = StringIO()
    writer = csv.writer(written, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    figures = pack.figures if Part.FIGURES in pack.parts_of(Paper.MINE) else ()
    writer.writerows(_row(pack, figure) for figure in figures)
    return written.getvalue().encode("utf-8-sig")


def _row(pack: Pack, figure: Figure) -> list[str]:
    of_pack = [guarded(pack.client_name), guarded(pack.period.title), *_days(pack)]
    before = guarded(pack.before.title) if pack.before else ""
    texts = [figure.key.value, guarded(figure.name), guarded(figure.unit)]
    return [*of_pack, before, *texts, _number(figure.now), _number(figure.before), guarded(figure.change_text)]


def _days(pack: Pack) -> list[str]:
    return [pack.period.first.isoformat(), pack.period.last.isoformat()]


def _number(value: float | None) -> str:
    """All digits of it; a share stays from 0 to 1. A negative one is a number, not a formula."""
    return "" if value is None else repr(float(value)).removesuffix(".0")
