"""Figures, days and evidence as the pages write them; unknown is a dash, never a zero."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from html import escape
from typing import Any

from django import template
from django.utils.safestring import SafeString

from coaching.desk import days

register = template.Library()

UNKNOWN = SafeString('<span title="unknown">–</span>')
# A figure with its unit, such as "18 kg", "0 of 11", "75 %": set on the right, so that figures line up.
_FIGURE = re.compile(r"[+-]?\d[\d.,]*( of \d+)?( (kg|lb|min|s|m|%))?")


@register.filter
def kilograms(grams: int | None) -> str:
    """Grams as kilograms, with decimals only where there are any."""
    if grams is None:
        return UNKNOWN
    return f"{Decimal(grams) / 1000:,f}".rstrip("0").rstrip(".") if grams % 1000 else f"{grams // 1000:,}"


@register.filter
def percent(share: float | None) -> str:
    return UNKNOWN if share is None else f"{100 * share:.0f} %"


@register.filter
def ago(day: date | None, today: date) -> str:
    return UNKNOWN if day is None else days.ago(day, today)


@register.filter
def counted(count: int, words: str) -> str:
    """{{ 3|counted:"client,clients" }} is "3 clients"."""
    one, _, many = words.partition(",")
    return days.counted(count, one, many)


@register.filter
def evidence_table(evidence: Mapping[str, Sequence[Any]]) -> SafeString:
    """The rows behind a finding; written here, since a morning shows thousands of such cells."""
    rows = evidence.get("rows")
    if not rows:
        return SafeString("")
    classes = [_css_class(column) for column in zip(*rows, strict=True)]
    head = _line("th", evidence["columns"], [f'{css} scope="col"' for css in classes])
    body = "".join(_line("td", row, classes) for row in rows)
    return SafeString(f"<table><thead>{head}</thead><tbody>{body}</tbody></table>")


def _line(element: str, cells: Sequence[Any], attributes: Sequence[str]) -> str:
    made = (f"<{element}{css}>{_text(cell)}</{element}>" for cell, css in zip(cells, attributes, strict=True))
    return f"<tr>{''.join(made)}</tr>"


def _text(cell: Any) -> str:
    return UNKNOWN if cell is None or cell == "" else escape(str(cell))


def _css_class(column: Sequence[Any]) -> str:
    known = [str(cell) for cell in column if cell not in (None, "")]
    return ' class="number"' if known and all(_FIGURE.fullmatch(cell) for cell in known) else ""
