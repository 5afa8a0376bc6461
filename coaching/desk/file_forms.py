"""What the forms of a file under review send: cells by row and column, rows by number."""

from __future__ import annotations

import re
from collections.abc import Iterable
from uuid import UUID

from django.http import HttpRequest, QueryDict

CELL_FIELD = re.compile(r"cell-([0-9]{1,7})-([a-z_]+)")
NUMBER = re.compile(r"[0-9]{1,9}")


def mends_in(sent: QueryDict) -> dict[tuple[int, str], str]:
    """What is to stand in cells; a cell that is to be as it came is sent back as it came."""
    found = {}
    for field in sent:
        if match := CELL_FIELD.fullmatch(field):
            found[int(match[1]), match[2]] = sent[field]
    return found


def numbers_in(texts: Iterable[str]) -> set[int]:
    return {int(text) for text in texts if NUMBER.fullmatch(text)}


def number_in(text: str | None) -> int | None:
    return int(text) if text and NUMBER.fullmatch(text) else None


def progress_token(request: HttpRequest) -> UUID | None:
    """Under which the page asks how far it has come, if it does."""
    try:
        return UUID(request.POST.get("progress", ""))
    except ValueError:
        return None
