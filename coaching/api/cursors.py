"""Where a page ended, as a word that only this installation can make: values of the list's order, signed."""

from __future__ import annotations

from datetime import date
from typing import Any
from uuid import UUID

from django.core import signing

from coaching.api.problems import ParameterRefused

Position = tuple[Any, ...]
INVALID = "This is no cursor of this list. Begin without one."


def write_cursor(name: str, position: Position) -> str:
    return signing.dumps([_written(value) for value in position], salt=_salt(name))


def read_cursor(name: str, cursor: str) -> Position:
    try:
        return tuple(_read(value) for value in signing.loads(cursor, salt=_salt(name)))
    except signing.BadSignature:
        raise ParameterRefused({"cursor": [INVALID]}) from None


def _salt(name: str) -> str:
    return f"coaching.api.cursors {name}"


def _written(value: Any) -> Any:
    match value:
        case UUID():
            return {"uuid": str(value)}
        case date():
            return {"day": value.isoformat()}
        case int():
            return value
    return str(value)


def _read(value: Any) -> Any:
    match value:
        case {"uuid": text}:
            return UUID(text)
        case {"day": text}:
            return date.fromisoformat(text)
    return value
