"""Things of the record in words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from coaching.databases.letters import by_letters
from coaching.monitoring.plain_words import counted
from roster.batches import in_batches
from roster.blocks.models import Block, Exercise
from roster.logs.models import SessionLog
from roster.people.models import Client
from roster.watching import Thing


def names_of(thing: Thing, ids: Iterable[int]) -> dict[int, str]:
    """By id, such as "bo", "bo, Block 1", "bo, 2026-04-14"; those that are gone are left out."""
    return {pk: name for batch in in_batches(ids) for pk, name in _names(thing, batch)}


def _names(thing: Thing, ids: list[int]) -> Iterable[tuple[int, str]]:
    match thing:
        case Thing.CLIENT:
            return Client.objects.filter(pk__in=ids).order_by(by_letters("key")).values_list("pk", "key")
        case Thing.EXERCISE:
            return Exercise.objects.filter(pk__in=ids).values_list("pk", "name")
        case Thing.BLOCK:
            blocks = Block.objects.filter(pk__in=ids).order_by(by_letters("client__key"), "starts_on")
            return ((pk, f"{key}, {label}") for pk, key, label in blocks.values_list("pk", "client__key", "label"))
    logs = SessionLog.objects.filter(submission__in=ids).order_by(by_letters("client__key"), "performed_on")
    rows = logs.values_list("submission_id", "client__key", "performed_on")
    return ((pk, f"{key}, {performed_on}") for pk, key, performed_on in rows)


def listed(counts: Mapping[str, int]) -> str:
    """Such as "2 notes and 1 block"."""
    parts = [counted(number, noun) for noun, number in sorted(counts.items())]
    return " and ".join(filter(None, [", ".join(parts[:-1]), parts[-1]]))
