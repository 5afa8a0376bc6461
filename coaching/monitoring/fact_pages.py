"""Facts of many clients a page at a time: client after client, each one's facts in their own order.

A page costs what it shows: clients are read in batches, and those beyond the page not at all. A client whose stored
facts stand as at the day asked for is read; of any other the facts are computed from the record as at that day.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, NamedTuple
from uuid import UUID

from django.db.models import Q, QuerySet

from coaching.databases.letters import by_letters
from coaching.monitoring.conditions import Condition, all_hold, as_query, value_at
from coaching.monitoring.fact_sources import FactSource
from coaching.monitoring.refresh import SHARD_CLIENTS, assess_clients
from roster.people.models import Client, Studio
from roster.people.zones import local_date

# The first batch, where one or two clients are a page; each further one is twice as large.
FIRST_BATCH_CLIENTS = 4


class Person(NamedTuple):
    """What a row tells of its client, with the day that is asked for and the day of the stored facts."""

    pk: int
    public_id: UUID
    key: str
    name: str
    state: str
    lead_id: int
    day: date
    stored_day: date | None


class Placed(NamedTuple):
    person: Person
    fact: Any


@dataclass(frozen=True)
class Wanted:
    """A page of facts: of whom, as at which day (None: each client's own today), from where on, and how many."""

    clients: QuerySet[Client]
    studio: Studio | None
    as_of: date | None
    now: datetime
    size: int
    conditions: Sequence[Condition] = ()
    # The client and the values of the source's order after which the page begins.
    after: tuple[Any, ...] | None = None

    @property
    def query(self) -> Q:
        return as_query(self.conditions)


def read_page(source: FactSource, wanted: Wanted) -> list[Placed]:
    """At most `size` facts and one more, which tells that there is a further page."""
    found: list[Placed] = []
    for batch in _batches(people_of(wanted)):
        found += _read_batch(source, wanted, batch, wanted.size + 1 - len(found))
        if len(found) > wanted.size:
            break
    return found[: wanted.size + 1]


def people_of(wanted: Wanted) -> list[Person]:
    """In the order of the pages, from the client on with whom the page before ended."""
    clients = wanted.clients.order_by("public_id")
    if wanted.after:
        clients = clients.filter(public_id__gte=wanted.after[0])
    rows = clients.values_list(
        "pk", "public_id", "key", "name", "state", "lead_id", "time_zone", "state_of_facts__as_of"
    )
    return [
        Person(*row, day=wanted.as_of or local_date(wanted.now, zone), stored_day=stored_day)
        for *row, zone, stored_day in rows
    ]


def position_of(source: FactSource, placed: Placed) -> tuple[Any, ...]:
    return placed.person.public_id, *(value_at(placed.fact, path) for path in source.order)


def _batches(people: list[Person]) -> Iterator[list[Person]]:
    start, size = 0, FIRST_BATCH_CLIENTS
    while start < len(people):
        yield people[start : start + size]
        start, size = start + size, min(size * 2, SHARD_CLIENTS)


def _read_batch(source: FactSource, wanted: Wanted, batch: list[Person], limit: int) -> list[Placed]:
    stored = [person for person in batch if person.stored_day == person.day]
    computed = [person for person in batch if person.stored_day != person.day]
    facts: dict[int, list[Any]] = defaultdict(list)
    for fact in _stored(source, wanted, stored, limit) if stored else ():
        facts[fact.client_id].append(fact)
    for fact in _computed(source, wanted, computed) if computed else ():
        facts[fact.client_id].append(fact)
    return [Placed(person, fact) for person in batch for fact in facts[person.pk]]


def _stored(source: FactSource, wanted: Wanted, people: list[Person], limit: int) -> QuerySet[Any]:
    places = [f"{path}_by_letters" if path in source.texts else path for path in source.order]
    letters = {f"{path}_by_letters": by_letters(path) for path in source.texts}
    rows = source.stored().alias(**letters).filter(wanted.query, client_id__in=[person.pk for person in people])
    if wanted.after and people[0].public_id == wanted.after[0]:
        rows = rows.filter(~Q(client_id=people[0].pk) | beyond(places, wanted.after[1:]))
    return rows.order_by("client__public_id", *places)[:limit]


def beyond(order: Sequence[str], values: Sequence[Any]) -> Q:
    """Rows after one with these values: a later first value, or the same and a later second one, and so on."""
    beyond, same = Q(pk__in=[]), Q()
    for path, value in zip(order, values, strict=True):
        beyond |= same & Q(**{f"{path}__gt": value})
        same &= Q(**{path: value})
    return beyond


def _computed(source: FactSource, wanted: Wanted, people: list[Person]) -> list[Any]:
    assert wanted.studio is not None
    days = {person.pk: person.day for person in people}
    facts = [
        fact for fact in source.computed(assess_clients(wanted.studio, days)) if all_hold(wanted.conditions, fact)
    ]
    after = wanted.after[1:] if wanted.after and people[0].public_id == wanted.after[0] else None
    placed = [(tuple(value_at(fact, path) for path in source.order), fact) for fact in facts]
    placed.sort(key=lambda one: one[0])
    return [fact for place, fact in placed if not after or fact.client_id != people[0].pk or place > after]
