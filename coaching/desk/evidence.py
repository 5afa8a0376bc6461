"""What stands behind a finding, as the pages show it; written here, since a morning shows thousands of such cells."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date
from html import escape
from typing import Any

from django.utils.safestring import SafeString

from coaching.monitoring.models import Flag

UNKNOWN = SafeString('<span title="unknown">–</span>')
NEW = SafeString(' <em class="new">new</em>')
# A figure with its unit, such as "18 kg", "0 of 11", "75 %": set on the right, so that figures line up.
_FIGURE = re.compile(r"[+-]?\d[\d.,]*( of \d+)?( (kg|lb|min|s|m|%))?")


def tables_of(flags: Sequence[Flag]) -> SafeString:
    """The rows of one flag, or of several each under its own sentence."""
    if len(flags) == 1:
        return table_of(flags[0].evidence)
    return SafeString("".join(f"<h5>{escape(flag.sentence)}</h5>{table_of(flag.evidence)}" for flag in flags))


def table_of(evidence: Mapping[str, Sequence[Any]]) -> SafeString:
    rows = evidence.get("rows")
    if not rows:
        return SafeString("")
    classes = [_css_class(column) for column in zip(*rows, strict=True)]
    head = _line("th", evidence["columns"], [f'{css} scope="col"' for css in classes])
    body = "".join(_line("td", row, classes) for row in rows)
    return SafeString(f"<table><thead>{head}</thead><tbody>{body}</tbody></table>")


def how_made(flag: Flag, seen_on: date | None) -> SafeString:
    """The rule, what would clear the finding, since when it holds, and since when the coach knows."""
    seen = f" <b>Seen</b> {_day(seen_on)}." if seen_on else ""
    return SafeString(
        f'<p class="rule"><b>Rule</b> {escape(flag.rule)} <b>Clears</b> {escape(flag.clears)}'
        f" <b>Since</b> {_day(flag.opened_on)}.{seen}</p>"
    )


def options_of(flag: Flag) -> SafeString:
    """What a coach might do."""
    if not flag.options:
        return SafeString("")
    items = "".join(f"<li>{escape(option)}</li>" for option in flag.options)
    return SafeString(f'<p class="rule"><b>You might</b></p><ul class="options">{items}</ul>')


def subject_fields(flags: Sequence[Flag]) -> SafeString:
    """Hidden fields that name what an act is about."""
    return SafeString("".join(f'<input type="hidden" name="subject" value="{escape(flag.subject)}">' for flag in flags))


def _line(element: str, cells: Sequence[Any], attributes: Sequence[str]) -> str:
    made = [f"<{element}{css}>{_text(cell)}</{element}>" for cell, css in zip(cells, attributes, strict=True)]
    return f"<tr>{''.join(made)}</tr>"


def _text(cell: Any) -> str:
    return UNKNOWN if cell is None or cell == "" else escape(str(cell))


def _css_class(column: Sequence[Any]) -> str:
    known = [str(cell) for cell in column if cell not in (None, "")]
    return ' class="number"' if known and all(map(_FIGURE.fullmatch, known)) else ""


def _day(day: date) -> str:
    return f"{day.day} {day:%b %Y}"
