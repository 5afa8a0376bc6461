"""What somebody asks of facts, once for the database and once for facts that are computed and never stored."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from operator import eq, ge, le
from typing import Any, NamedTuple

from django.db.models import Q

_COMPARISONS: dict[str, Callable[[Any, Any], bool]] = {"exact": eq, "gte": ge, "lte": le}


class Condition(NamedTuple):
    """`path` leads from a fact to a value, as the database names it; `how` is exact, gte, lte or in."""

    path: str
    how: str
    value: Any


def as_query(conditions: Iterable[Condition]) -> Q:
    found = Q()
    for condition in conditions:
        found &= Q(**{f"{condition.path}__{condition.how}": condition.value})
    return found


def all_hold(conditions: Iterable[Condition], fact: object) -> bool:
    return all(_holds(condition, value_at(fact, condition.path)) for condition in conditions)


def _holds(condition: Condition, value: Any) -> bool:
    if condition.how == "in":
        return value in condition.value
    # As in the database, nothing compares with the unknown.
    return value is not None and _COMPARISONS[condition.how](value, condition.value)


def value_at(fact: object, path: str) -> Any:
    """The value that `path` leads to; None where a relation on the way is empty."""
    value: Any = fact
    for name in path.split("__"):
        if value is None:
            return None
        value = getattr(value, name)
    return value
