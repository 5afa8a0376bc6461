"""What stands behind a finding, as the pages show it; written here, since a morning shows thousands of such cells."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date
from functools import lru_cache
from html import escape
from typing import Any

from django.utils.safestring import SafeString

from coaching.monitoring.models import Flag

UNKNOWN = SafeString('<span title="unknown">–</span>')
NEW = SafeString(' <em class="new">new</em>')
# Of several exercises each shows so many; the story has them all.
LATEST_ROWS = 2
# A figure with its unit, such as "18 kg", "0 of 11", "75 %": set on the right, so that figures line up.
_FIGURE = re.compile(r"[+-]?\d[\d.,]*( of \d+)?( (kg|lb|min|s|m|%))?")


def remark_line(remark: str) -> SafeString:
    return SafeString(f'<p class="remark">{escape(remark)}</p>' if remark else "")


def tables_of(flags: Sequence[Flag]) -> SafeString:
    """The rows behind one flag; of several, told in one sentence, the latest rows of each exercise."""
    if len(flags) == 1:
        return table_of(flags[0].evidence)
    columns = [flag.evidence.get("columns") for flag in flags]
    if columns.count(columns[0]) < len(columns):
        return SafeString("".join(table_of(flag.evidence) for flag in flags))
    rows = [[flag.subject, *row] for flag in flags for row in flag.evidence.get("rows", [])[-LATEST_ROWS:]]
    return table_of({"columns": ["Exercise", *(columns[0] or [])], "rows": rows})


def table_of(evidence: Mapping[str, Sequence[Any]]) -> SafeString:
    rows = evidence.get("rows")
    if not rows:
        return SafeString("")
    return _table(_texts(evidence["columns"]), tuple([_texts(row) for row in rows]))


def _texts(cells: Sequence[Any]) -> tuple[str, ...]:
    return tuple(["" if cell is None else str(cell) for cell in cells])


# A finding stays for days, and is looked at every morning: some five megabytes of tables are kept at hand.
@lru_cache(maxsize=2048)
def _table(columns: tuple[str, ...], rows: tuple[tuple[str, ...], ...]) -> SafeString:
    classes = [_css_class(column) for column in zip(*rows, strict=True)]
    head = _line("th", columns, [f'{css_class} scope="col"' for css_class in classes])
    body = "".join(_line("td", row, classes) for row in rows)
    return SafeString(f"<table><thead>{head}</thead><tbody>{body}</tbody></table>")


def _line(element: str, texts: Sequence[str], attributes: Sequence[str]) -> str:
    made = (
        f"<{element}{css_class}>{escape(text) or UNKNOWN}</{element}>"
        for text, css_class in zip(texts, attributes, strict=True)
    )
    return f"<tr>{''.join(made)}</tr>"


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


def _css_class(column: Sequence[str]) -> str:
    known = [text for text in column if text]
    return ' class="number"' if known and all(map(_FIGURE.fullmatch, known)) else ""


def _day(day: date) -> str:
    return f"{day.day} {day:%b %Y}"
