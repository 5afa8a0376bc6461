"""A template rendered once for a page, and filled in for each of its hundreds of rows.

The template sees stand-ins, whose attributes come out as marks; filling in reads these attributes of the real things,
and escapes what they say as the template would have done.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from html import escape
from operator import attrgetter, itemgetter
from typing import Any
from uuid import UUID

from django.utils.safestring import SafeString

# An address is made only for an id that could be one.
_ANY_ID = UUID(int=0)
_MARK = re.compile(r"~([a-z_.]+)~")


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
        self._pieces = pieces[0::2]
        paths = pieces[1::2]
        # What occurs several times is read once.
        different = list(dict.fromkeys(paths))
        self._readers = [_reader(path) for path in different]
        self._places = [different.index(path) for path in paths]

    def fill(self, things: Mapping[str, Any]) -> SafeString:
        texts = [_text(read(things)) for read in self._readers]
        filled = [self._pieces[0]]
        for place, piece in zip(self._places, self._pieces[1:], strict=True):
            filled += (texts[place], piece)
        return SafeString("".join(filled))


def _reader(path: str) -> Callable[[Mapping[str, Any]], Any]:
    thing, _, attributes = path.partition(".")
    if not attributes:
        return itemgetter(thing)
    read = attrgetter(attributes)
    return lambda things: read(things[thing])


def _text(value: Any) -> str:
    return value if isinstance(value, SafeString) else escape(str(value))
