"""A pack as plain JSON and back, without loss: a kept version says the same whatever is logged, or built, later.

What is written is told by the types of `content`. A field that is new there needs a default, which is what packs of
before get; whatever else changes in those types raises `FORMAT`, and older packs are brought up to it here.
"""

from __future__ import annotations

import dataclasses
import hashlib
import json
from collections.abc import Callable, Mapping
from datetime import date
from enum import Enum
from functools import lru_cache
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints
from uuid import UUID

from coaching.check_ins.content import Pack

FORMAT = 1
STAMP_LENGTH = 16

Read = Callable[[Any], Any]
_AS_IT_IS = (str, int, bool)


class SnapshotRefused(Exception):
    """It is no pack that this Muster knows how to read."""


def snapshot_of(pack: Pack) -> dict[str, Any]:
    return {"format": FORMAT, "pack": _plain(pack)}


def pack_of(snapshot: Mapping[str, Any]) -> Pack:
    if snapshot.get("format") != FORMAT:
        raise SnapshotRefused(f"a pack of format {snapshot.get('format')}; known is {FORMAT}")
    try:
        pack: Pack = _reader(Pack)(snapshot["pack"])
    except (KeyError, TypeError, ValueError) as fault:
        raise SnapshotRefused(f"not a pack of format {FORMAT}: {fault}") from fault
    return pack


def stamp_of(pack: Pack) -> str:
    """Another one when anything in the pack is another."""
    text = json.dumps(snapshot_of(pack), sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()[:STAMP_LENGTH]


def _plain(value: Any) -> Any:
    if isinstance(value, Enum):
        return value.value
    if value is None or isinstance(value, (str, int, float)):
        return value
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, UUID):
        return str(value)
    if isinstance(value, Mapping):
        return {_plain(key): _plain(one) for key, one in value.items()}
    if isinstance(value, frozenset):
        return sorted(map(_plain, value))
    names = _names(type(value))
    return {name: _plain(getattr(value, name)) for name in names} if names else [_plain(one) for one in value]


@lru_cache
def _names(kind: type) -> tuple[str, ...]:
    """Of the fields of a data class or named tuple; nothing else has any."""
    if dataclasses.is_dataclass(kind):
        return tuple(field.name for field in dataclasses.fields(kind))
    return tuple(getattr(kind, "_fields", ()))


@lru_cache
def _reader(kind: Any) -> Read:
    """What makes a value of that type out of JSON."""
    origin, inner = get_origin(kind), get_args(kind)
    if origin in (Union, UnionType):
        return _reader_or_none(inner)
    if origin is tuple and inner[-1] is not Ellipsis:
        return _reader_of_fixed(inner)
    if origin in (tuple, list, frozenset):
        each = _reader(inner[0])
        return lambda values: origin(map(each, values))
    if origin is not None:
        of_key, of_value = map(_reader, inner)
        return lambda values: {of_key(key): of_value(one) for key, one in values.items()}
    return _reader_of_fields(kind) if _names(kind) else _reader_of_plain(kind)


def _reader_or_none(kinds: tuple[Any, ...]) -> Read:
    (kind,) = (one for one in kinds if one is not NoneType)
    read = _reader(kind)
    return lambda value: None if value is None else read(value)


def _reader_of_fixed(kinds: tuple[Any, ...]) -> Read:
    readers = [_reader(kind) for kind in kinds]
    return lambda values: tuple(read(one) for read, one in zip(readers, values, strict=True))


def _reader_of_fields(kind: type) -> Read:
    hints = get_type_hints(kind)
    readers = {name: _reader(hints[name]) for name in _names(kind)}
    return lambda values: kind(**{name: readers[name](one) for name, one in values.items()})


def _reader_of_plain(kind: type) -> Read:
    if kind in _AS_IT_IS:
        return lambda value: value
    return date.fromisoformat if kind is date else kind
