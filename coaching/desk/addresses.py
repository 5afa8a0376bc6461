"""The addresses of a client's pages and acts, made by filling in a pattern: a list needs thousands of them."""

from __future__ import annotations

from functools import cache
from uuid import UUID

from django.urls import get_script_prefix, reverse

from coaching.desk.roster import Person
from roster.people.models import Client

_SOMEBODY = UUID(int=0)


def client_address(route: str, client: Client | Person, *more: str) -> str:
    """As `reverse` gives it for the client's public id and what else the route asks for."""
    before, after = _around_the_id(get_script_prefix(), route, *more)
    return f"{before}{client.public_id}{after}"


def story_address(client: Client | Person) -> str:
    return client_address("client_story", client)


@cache
def _around_the_id(script_prefix: str, route: str, *more: str) -> tuple[str, str]:
    # The prefix is what `reverse` puts in front; it is named here so that each has its own pattern.
    before, after = reverse(route, args=[_SOMEBODY, *more]).split(str(_SOMEBODY))
    return before, after
