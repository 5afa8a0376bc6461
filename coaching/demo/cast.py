"""The invented people behind the demo's desk. The passwords are no secret: they guard invented data."""

from __future__ import annotations

from dataclasses import dataclass

from django.contrib.auth.hashers import make_password
from django.db import transaction

from roster.people.models import Client, Coach, Studio

STUDIO_NAME = "Slow Iron Studio"
STUDIO_ZONE = "Europe/Lisbon"
OTHER_STUDIO_NAME = "North Quay Strength"


@dataclass(frozen=True)
class SignIn:
    """Somebody who may sign in to the demo."""

    email: str
    password: str
    first_name: str
    last_name: str
    role: Coach.Role
    studio: str = STUDIO_NAME


OWNER = SignIn("vera@slow-iron.example", "chalk-on-the-bar", "Vera", "Rahm", Coach.Role.OWNER)
COACH = SignIn("ines@slow-iron.example", "rope-by-the-door", "Ines", "Caldor", Coach.Role.COACH)
ASSISTANT = SignIn("tobi@slow-iron.example", "mats-in-the-corner", "Tobi", "Marschk", Coach.Role.ASSISTANT)
OUTSIDER = SignIn(
    "rhea@north-quay.example", "gulls-over-the-quay", "Rhea", "Lundvik", Coach.Role.OWNER, OTHER_STUDIO_NAME
)
EVERYBODY = (OWNER, COACH, ASSISTANT, OUTSIDER)

CLIENTS_A_COACH = 3
CLIENTS_AN_ASSISTANT = 6


@transaction.atomic
def open_studios() -> dict[SignIn, Coach]:
    """The two studios with everybody who signs in, made where they are not there yet."""
    for name in (STUDIO_NAME, OTHER_STUDIO_NAME):
        Studio.objects.get_or_create(name=name, defaults={"time_zone": STUDIO_ZONE})
    return {person: _coach(person) for person in EVERYBODY}


def _coach(person: SignIn) -> Coach:
    coach, _ = Coach.objects.get_or_create(
        email=person.email,
        defaults={
            "studio": Studio.objects.get(name=person.studio),
            "password": make_password(person.password),
            "first_name": person.first_name,
            "last_name": person.last_name,
            "role": person.role,
            "time_zone": STUDIO_ZONE,
        },
    )
    return coach


@transaction.atomic
def share_clients(studio: Studio, coach: Coach, assistant: Coach) -> None:
    """Every third client is the second coach's; the assistant reads every sixth."""
    clients = list(Client.objects.filter(studio=studio).order_by("name", "pk"))
    for client in clients[::CLIENTS_A_COACH]:
        client.lead = coach
        client.save(update_fields=["lead"])
    for client in clients[1::CLIENTS_AN_ASSISTANT]:
        client.shared_with.add(assistant)
