"""What a request asks of a list: as at which day, whose, what of it, from where on, and how much at once."""

from __future__ import annotations

from collections.abc import Set
from datetime import date
from typing import Any

from django.db.models import QuerySet
from django.utils import timezone
from rest_framework.request import Request

from coaching.api.cursors import INVALID, Position, read_cursor
from coaching.api.parameters import Filters
from coaching.api.problems import ParameterRefused
from coaching.monitoring.days_asked import DayRefused, day_asked
from coaching.monitoring.fact_pages import Wanted
from roster.people.models import Client
from roster.people.zones import local_date

ROWS_A_PAGE = 100
MOST_ROWS_A_PAGE = 500
CURSOR_LENGTH = 1000


def read_question(request: Request, name: str, filters: type[Filters], *, takes_as_of: bool) -> Wanted:
    own = {"limit", "cursor"} | ({"as_of"} if takes_as_of else set())
    check_names(request, own | set(filters.base_filters), filters.several())
    chosen = filters(request.query_params, queryset=Client.objects.none())
    if not chosen.is_valid():
        raise ParameterRefused({one: [str(text) for text in texts] for one, texts in chosen.errors.items()})
    return Wanted(
        clients=_clients(request, chosen), studio=request.user.studio,
        as_of=read_as_of(request) if takes_as_of else None, now=timezone.now(), size=_limit(request),
        conditions=chosen.conditions(), after=_after(request, name),
    )


def check_names(request: Request, known: set[str], several: Set[str] = frozenset()) -> None:
    """A filter that is misspelt, or was left empty, must not give everything."""
    faults = {name: ["There is no such parameter here."] for name in request.query_params if name not in known}
    for name, values in request.query_params.lists():
        if name in known and "" in values:
            faults[name] = ["It is empty: leave it out, or say what is wanted."]
        elif len(values) > 1 and name in known - several:
            faults[name] = ["It is given more than once."]
    if faults:
        raise ParameterRefused(faults)


def read_as_of(request: Request) -> date | None:
    text = request.query_params.get("as_of")
    if text is None:
        return None
    try:
        return day_asked(text, local_date(timezone.now(), request.user.time_zone))
    except DayRefused as refused:
        raise ParameterRefused({"as_of": [str(refused)]}) from None


def _clients(request: Request, chosen: Filters) -> QuerySet[Client]:
    clients = Client.objects.visible_to(request.user)
    if one := chosen.chosen("client"):
        clients = clients.filter(public_id=one)
    if states := chosen.chosen("state"):
        clients = clients.filter(state__in=states)
    if words := chosen.chosen("q"):
        clients = clients.matching(words)
    return clients


def _limit(request: Request) -> int:
    text = request.query_params.get("limit", str(ROWS_A_PAGE))
    if not (text.isascii() and text.isdecimal() and len(text) <= len(str(MOST_ROWS_A_PAGE))
            and 1 <= int(text) <= MOST_ROWS_A_PAGE):
        raise ParameterRefused({"limit": [f"This is no number from 1 to {MOST_ROWS_A_PAGE}."]})
    return int(text)


def _after(request: Request, name: str) -> Position | None:
    cursor = request.query_params.get("cursor")
    if cursor is None:
        return None
    if len(cursor) > CURSOR_LENGTH:
        raise ParameterRefused({"cursor": [INVALID]})
    return read_cursor(name, cursor)


def address_with(request: Request, **changed: Any) -> str:
    """The same request's address with some parameters changed."""
    query = request.query_params.copy()
    for name, value in changed.items():
        query[name] = value
    return request.build_absolute_uri(f"{request.path}?{query.urlencode()}")
