"""A template rendered once for a page, and filled in for each of its hundreds of rows.

The template sees stand-ins, whose attributes come out as marks; filling in reads these attributes of the real things,
and escapes what they say as the template would have done.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from html import escape
from operator import attrgetter
from typing import Any
from uuid import UUID

from django.utils.safestring import SafeString

# An address is made only for an id that could be one.
_ANY_ID = UUID(int=0)
_MARK = re.compile(r"~([a-z_]+)(?:\.([a-z_.]+))?~")


class StandIn:
    """Stands for a thing that is not known yet; `known` are those of its attributes that are."""

    def __init__(self, path: str, **known: object) -> None:
        self._path = path
        self._known = known

    def __getattr__(self, name: str) -> object:
        if name == "public_id":
            return _ANY_ID
        return self._known[name] if name in self._known else StandIn(f"{self._path}.{name}")

    def __str__(self) -> str:
        return f"~{self._path}~"


class Pattern:
    def __init__(self, html: str, id_path: str) -> None:
        """`id_path` says whose public id the addresses hold."""
        pieces = _MARK.split(html.replace(str(_ANY_ID), f"~{id_path}~"))
        self._first = pieces[0]
        self._rest = [
            (thing, attrgetter(path) if path else _itself, text)
            for thing, path, text in zip(pieces[1::3], pieces[2::3], pieces[3::3], strict=True)
        ]

    def fill(self, things: Mapping[str, Any]) -> SafeString:
        filled = [self._first]
        for thing, read, text in self._rest:
            value = read(things[thing])
            filled += (value if isinstance(value, SafeString) else escape(str(value)), text)
        return SafeString("".join(filled))


def _itself(thing: Any) -> Any:
    return thing
