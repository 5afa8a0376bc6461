"""Rows of an export as text: CSV as RFC 4180 has it, or one JSON array of objects."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from datetime import date
from typing import Any

from roster.tables.formula_cells import guarded

Row = dict[str, Any]


def to_csv(columns: list[str], rows: list[Row]) -> str:
    """Comma, CRLF, empty where nothing is known, true and false in words; text that looks like a formula is quoted."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(columns)
    writer.writerows([[_cell(row[name]) for name in columns] for row in rows])
    return out.getvalue()


def _cell(value: Any) -> Any:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return guarded(value)
    return value.isoformat() if isinstance(value, date) else value


def to_json(columns: list[str], rows: list[Row]) -> str:
    """Numbers as numbers and unrounded, dates as YYYY-MM-DD, null for whatever is empty."""
    shown = [{name: json_value(row[name]) for name in columns} for row in rows]
    return json.dumps(shown, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def json_value(value: Any) -> Any:
    if value == "":
        return None
    return value.isoformat() if isinstance(value, date) else value


FORMATS: dict[str, Callable[[list[str], list[Row]], str]] = {"csv": to_csv, "json": to_json}
