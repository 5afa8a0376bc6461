"""What stands beside a client's story: what they own, what to spare, notes, contacts, promises."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date

from django.db.models import Max, Q

from roster.people.models import Client, Contact, KitItem, Limitation, Note, Pause, Promise

SHOWN_AT_FIRST = 4


@dataclass(frozen=True)
class Aside:
    kit: list[tuple[str, list[KitItem]]]
    limitations: list[Limitation]
    notes: list[Note]
    contacts: list[Contact]
    promise: Promise | None
    pause: Pause | None
    last_call_on: date | None

    @property
    def older_notes(self) -> list[Note]:
        return self.notes[SHOWN_AT_FIRST:]

    @property
    def latest_notes(self) -> list[Note]:
        return self.notes[:SHOWN_AT_FIRST]

    @property
    def latest_contacts(self) -> list[Contact]:
        return self.contacts[:SHOWN_AT_FIRST]

    @property
    def older_contacts(self) -> list[Contact]:
        return self.contacts[SHOWN_AT_FIRST:]


def read_aside(client: Client, day: date) -> Aside:
    """As at the day."""
    lasting = Q(until_on__isnull=True) | Q(until_on__gte=day)
    return Aside(
        kit=_kit_by_place(client),
        limitations=list(client.limitations.filter(lasting, from_on__lte=day)),
        notes=list(client.notes.filter(written_at__date__lte=day).select_related("written_by")),
        contacts=list(client.contacts.filter(made_on__lte=day).select_related("made_by")),
        promise=client.promises.filter(made_on__lte=day, kept__isnull=True).first(),
        pause=client.pauses.covering(day).order_by("-until_on").first(),
        last_call_on=client.check_ins.held().filter(held_on__lte=day).aggregate(last=Max("held_on"))["last"],
    )


def _kit_by_place(client: Client) -> list[tuple[str, list[KitItem]]]:
    by_place: dict[str, list[KitItem]] = defaultdict(list)
    for item in client.kit.all():
        by_place[item.get_place_display()].append(item)
    # Home first: that is where most of them train.
    places = KitItem.Place.labels
    return sorted(by_place.items(), key=lambda place: places.index(place[0]))
