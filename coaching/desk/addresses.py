"""The address of a client's story, made by filling in a pattern: a list needs hundreds of them."""

from __future__ import annotations

from functools import cache
from uuid import UUID

from django.urls import get_script_prefix, reverse

from coaching.desk.roster import Person
from roster.people.models import Client

_SOMEBODY = UUID(int=0)


def story_address(client: Client | Person) -> str:
    before, after = _around_the_id(get_script_prefix())
    return f"{before}{client.public_id}{after}"


@cache
def _around_the_id(script_prefix: str) -> tuple[str, str]:
    # The prefix is what `reverse` puts in front; it is named here so that each has its own pattern.
    before, after = reverse("client_story", args=[_SOMEBODY]).split(str(_SOMEBODY))
    return before, after
