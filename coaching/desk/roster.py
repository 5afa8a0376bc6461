"""Which clients a page is about."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple
from uuid import UUID

from django.db.models import Q, QuerySet

from roster.labels import order_of_names
from roster.people.models import Client, Coach

ALL = "all"


class Person(NamedTuple):
    """What a list of hundreds needs of a client."""

    pk: int
    public_id: UUID
    name: str
    email: str
    phone: str
    state: str
    joined_on: date


def persons(clients: QuerySet[Client]) -> list[Person]:
    """By name."""
    people = [Person(*row) for row in clients.order_by().values_list(*Person._fields)]
    return sorted(people, key=lambda person: (order_of_names(person.name), person.pk))


def roster_of(coach: Coach, whose: str) -> QuerySet[Client]:
    """Active clients: a coach's own, or with "all" everybody the coach may see."""
    return people_of(coach, whose).active()


def people_of(coach: Coach, whose: str) -> QuerySet[Client]:
    """The same, those who pause or have ended too."""
    visible = Client.objects.visible_to(coach)
    if whose == ALL or coach.role != Coach.Role.OWNER:
        return visible
    shared = Client.shared_with.through.objects.filter(coach_id=coach.pk).values("client_id")
    return visible.filter(Q(lead=coach) | Q(covering=coach) | Q(pk__in=shared))
