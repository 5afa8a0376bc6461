"""A choice out of a few, as an address names it."""

from __future__ import annotations

from enum import Enum
from typing import TypeVar

from django.http import HttpRequest

Choice = TypeVar("Choice", bound=Enum)


def chosen(request: HttpRequest, name: str, default: Choice) -> Choice:
    """What `?name=` asks for; `default` when it asks for nothing, or for nothing there is."""
    kinds = type(default)
    try:
        return kinds(request.GET.get(name, default.value))
    except ValueError:
        return default
