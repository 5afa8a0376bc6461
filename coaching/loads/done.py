"""What a load did, read back from the account that was kept of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from coaching.loads.models import Load, LoadedThing
from coaching.loads.spans import ids_in
from roster.batches import in_batches
from roster.blocks.models import Block
from roster.logs.models import Submission
from roster.people.models import Client
from roster.watching import Thing


@dataclass(frozen=True)
class Done:
    """Ids by thing: what was made, and what was changed with how it differs from before."""

    load: Load
    made: dict[Thing, list[int]]
    fingerprints: dict[Thing, dict[int, str]]
    differences: dict[Thing, dict[int, dict[str, Any]]]

    def touched(self, thing: Thing) -> list[int]:
        return [*self.made[thing], *self.differences[thing]]

    def client_ids(self) -> set[int]:
        """Of those for whom something was made or changed, and who are still there."""
        ids = set(self.touched(Thing.CLIENT))
        for model, thing in ((Block, Thing.BLOCK), (Submission, Thing.LOG)):
            for batch in in_batches(self.touched(thing)):
                ids |= set(model._default_manager.filter(pk__in=batch).values_list("client_id", flat=True))
        return set(_still_there(ids))


def _still_there(client_ids: Iterable[int]) -> Iterator[int]:
    for batch in in_batches(client_ids):
        yield from Client.objects.filter(pk__in=batch).values_list("pk", flat=True)


def what_was_done(load: Load) -> Done:
    fingerprints: dict[Thing, dict[int, str]] = {thing: {} for thing in Thing}
    differences: dict[Thing, dict[int, dict[str, Any]]] = {thing: {} for thing in Thing}
    for told in LoadedThing.objects.filter(load=load):
        if told.fingerprint:
            fingerprints[Thing(told.thing)][told.thing_id] = told.fingerprint
        else:
            differences[Thing(told.thing)][told.thing_id] = told.difference
    made = {thing: list(ids_in(load.spans_made(thing))) for thing in Thing}
    return Done(load, made, fingerprints, differences)
