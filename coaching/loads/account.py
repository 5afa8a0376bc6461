"""Keeps account of what a load does to the record, so that it can be told and undone."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from typing import Any

from coaching.loads import snapshots
from coaching.loads.models import Load, LoadedThing
from coaching.loads.spans import spans_of
from roster.batches import in_batches
from roster.logs.models import Submission
from roster.watching import Thing, Watcher

# A log can't be edited but by a further revision, so that how it was made need not be kept.
FINGERPRINTED = (Thing.CLIENT, Thing.EXERCISE, Thing.BLOCK)
# Plan and people are told column by column; of a log, the whole revision before.
COMPARED = (Thing.CLIENT, Thing.BLOCK)
WRITTEN_AT_ONCE = 500


class Account(Watcher):
    def __init__(self) -> None:
        self._before: dict[Thing, dict[int, snapshots.Rows]] = defaultdict(dict)
        self._made: dict[Thing, list[int]] = defaultdict(list)
        self._changed: dict[Thing, list[int]] = defaultdict(list)
        self._said_again: dict[Thing, list[int]] = defaultdict(list)
        # Submissions whose log may be gone are in no snapshot.
        self._revised: list[int] = []

    def before_changing(self, thing: Thing, ids: Iterable[int]) -> None:
        known = list(ids)
        self._before[thing] |= snapshots.take(thing, known)
        if thing is Thing.LOG:
            self._revised += known

    def made(self, thing: Thing, ids: Iterable[int]) -> None:
        self._made[thing] += ids

    def changed(self, thing: Thing, ids: Iterable[int]) -> None:
        self._changed[thing] += ids

    def said_again(self, thing: Thing, ids: Iterable[int]) -> None:
        self._said_again[thing] += ids

    def spans_made(self) -> dict[str, Any]:
        return {thing.value: spans_of(ids) for thing, ids in self._made.items() if ids}

    def spans_said_again(self) -> dict[str, Any]:
        return {thing.value: spans_of(ids) for thing, ids in self._said_again.items() if ids}

    def keep(self, load: Load) -> None:
        """Write down what the spans of a load do not tell."""
        things = (LoadedThing(load=load, **told) for told in [*self._things_made(), *self._things_changed()])
        LoadedThing.objects.bulk_create(things, batch_size=WRITTEN_AT_ONCE)

    def _things_made(self) -> Iterator[dict[str, Any]]:
        for thing in FINGERPRINTED:
            for pk, rows in snapshots.take(thing, self._made[thing]).items():
                yield {"thing": thing, "thing_id": pk, "fingerprint": snapshots.fingerprint(rows)}

    def _things_changed(self) -> Iterator[dict[str, Any]]:
        for thing in COMPARED:
            for pk, rows in snapshots.take(thing, self._changed[thing]).items():
                left = snapshots.difference(self._before[thing][pk], rows)
                yield {"thing": thing, "thing_id": pk, "difference": left}
        for pk, earlier in _earlier_revisions(self._changed[Thing.LOG], self._revised).items():
            before = {"submission": earlier, "log": self._before[Thing.LOG].get(earlier, {})}
            yield {"thing": Thing.LOG, "thing_id": pk, "difference": before}


def _earlier_revisions(new: list[int], old: list[int]) -> dict[int, int]:
    """By each new submission the one in whose place it came."""
    place_of = {place: pk for pk, place in _places(old)}
    return {pk: place_of[place] for pk, place in _places(new)}


def _places(submissions: list[int]) -> Iterator[tuple[int, tuple[int, Any]]]:
    for batch in in_batches(submissions):
        for pk, client_id, uuid in Submission.objects.filter(pk__in=batch).values_list("pk", "client_id", "uuid"):
            yield pk, (client_id, uuid)
