"""Two studios, three clients, and everybody who might look."""

from __future__ import annotations

from dataclasses import dataclass

from django.test import Client as Browser

from roster.people.models import Coach, Studio
from tests.coaching.factories import CoachFactory, StudioFactory
from tests.isolation.filled import FilledClient, fill_client

# Whom each may see, of the three clients. The last two belong to no studio, or are not let in.
SEES = {
    "owner": {"north", "colleagues"},
    "lead": {"north"},
    "sharing coach": {"north"},
    "covering coach": {"north"},
    "assistant": {"north"},
    "colleague": {"colleagues"},
    "colleague's assistant": {"colleagues"},
    "owner elsewhere": {"south"},
    "coach elsewhere": set(),
    "support": set(),
    "disabled lead": set(),
    "signed out": set(),
}
ONLY_READ = {"assistant", "colleague's assistant"}
NOT_LET_IN = {"disabled lead", "signed out"}


@dataclass(frozen=True)
class World:
    clients: dict[str, FilledClient]
    people: dict[str, Coach | None]

    def browser_of(self, name: str, *, with_csrf: bool = False) -> Browser:
        browser, person = Browser(enforce_csrf_checks=with_csrf), self.people[name]
        if person is not None:
            browser.force_login(person)
        return browser

    def hidden_words(self, name: str) -> set[str]:
        """What must never show in anything that this person gets: others' clients, and whatever another studio has."""
        studio = getattr(self.people[name], "studio", None)
        elsewhere = {filled.studio_word for filled in self.clients.values() if filled.client.studio != studio}
        return elsewhere | {filled.word for key, filled in self.clients.items() if key not in SEES[name]}


def build_world() -> World:
    here, there = StudioFactory(name="fernmoss studio"), StudioFactory(name="bogmoss studio")
    people = _people_of(here) | {
        "owner elsewhere": CoachFactory(studio=there, role=Coach.Role.OWNER, first_name="bogmoss"),
        "coach elsewhere": CoachFactory(studio=there, first_name="bogmoss"),
        "support": CoachFactory(studio=None, is_staff=True, role=Coach.Role.OWNER),
        "superuser": CoachFactory(studio=None, is_staff=True, is_superuser=True, role=Coach.Role.OWNER),
        "signed out": None,
    }
    clients = {
        "north": fill_client(people["lead"], "quillwort", "fernmoss"),
        "colleagues": fill_client(people["colleague"], "hornwort", "fernmoss"),
        "south": fill_client(people["owner elsewhere"], "bladderwort", "bogmoss"),
    }
    _share(clients, people)
    return World(clients, people)


def _people_of(studio: Studio) -> dict[str, Coach | None]:
    reads = Coach.Role.ASSISTANT
    roles = {"owner": Coach.Role.OWNER, "assistant": reads, "colleague's assistant": reads}
    names = ("owner", "lead", "sharing coach", "covering coach", "assistant", "colleague", "colleague's assistant")
    people = {name: CoachFactory(studio=studio, role=roles.get(name, Coach.Role.COACH)) for name in names}
    return people | {"disabled lead": CoachFactory(studio=studio, role=Coach.Role.OWNER, is_active=False)}


def _share(clients: dict[str, FilledClient], people: dict[str, Coach | None]) -> None:
    north, colleagues = clients["north"].client, clients["colleagues"].client
    north.covering = people["covering coach"]
    north.save()
    north.shared_with.set([people["sharing coach"], people["assistant"], people["disabled lead"]])
    colleagues.shared_with.set([people["colleague's assistant"]])
